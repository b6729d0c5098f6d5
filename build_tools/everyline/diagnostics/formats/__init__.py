"""One module for each way to print diagnostics: `render(diagnostics, lines, …) -> str`."""
