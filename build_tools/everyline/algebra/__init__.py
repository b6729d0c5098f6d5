"""Room: see DEVELOPERS.md."""
