-- One row is one confirmed edit; rows are only ever added. n counts from 1
-- without gaps, at_ms is milliseconds since 1970 (UTC), parents is a JSON list,
-- value is JSON (NULL: the edit deletes the record).
CREATE TABLE edit (
  n          INTEGER PRIMARY KEY,
  id         TEXT    NOT NULL UNIQUE,
  author     TEXT    NOT NULL,
  session    TEXT    NOT NULL,
  seq        INTEGER NOT NULL,
  parents    TEXT    NOT NULL,
  grp        TEXT    NOT NULL,
  undoes     TEXT    NOT NULL,
  redoes     TEXT    NOT NULL,
  at_ms      INTEGER NOT NULL,
  label      TEXT    NOT NULL,
  collection TEXT    NOT NULL,
  key        TEXT    NOT NULL,
  value      TEXT
) STRICT;
