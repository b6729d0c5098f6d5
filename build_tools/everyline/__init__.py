"""everyline: a practice book for calculus whose every line is checked."""
