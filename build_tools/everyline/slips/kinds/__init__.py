"""One module for each slip: `SLIP` says what it is, what it makes of a right answer, and the way back."""
