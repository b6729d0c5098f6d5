"""One module for each technique: `TECHNIQUE` says what it is, `propose` what it does to a question."""
