"""Files of a book: bytes to data in which every piece knows its place, and back. Mathematics is text here and is never parsed.

- the disk: `load`, `save`;
- reading: `reading` is the way in; `front` and `nodes` (front matter), `fields` and `vary` (its values), `body`, `blocks`, `prose`;
- what is read: `problem`, `sets`, `lessons`, `contrasts`; `paths` (their names), `span` (places), `faults` (what can be wrong);
- which fields there are: `schema`, `json_schema`, `traps` (values that YAML reads otherwise);
- writing: `writing`, `table` (comma-separated values).
"""
