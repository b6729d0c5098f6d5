"""A book as pages, a sheet or lines on a terminal: the only room that knows markup."""
