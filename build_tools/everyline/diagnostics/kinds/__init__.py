"""One module for each code: `KIND` explains it, `diagnose(fact)` puts one case into words."""
