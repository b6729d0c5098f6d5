"""A book inside a site generator: `mkdocs` is the plugin, the other modules are what it delegates to."""
