-- The bytes of a sheet stand once in blob, whatever becomes of its mapping: the
-- value then lacks them at byte blob_at. hash is SHA-256 in hexadecimal. sum is
-- the XXH3 of the row, so that a flipped bit is noticed; the program fills it.
CREATE TABLE blob (
  hash TEXT PRIMARY KEY,
  data BLOB NOT NULL
) STRICT, WITHOUT ROWID;
ALTER TABLE edit ADD COLUMN blob TEXT REFERENCES blob (hash);
ALTER TABLE edit ADD COLUMN blob_at INTEGER NOT NULL DEFAULT 0;
ALTER TABLE edit ADD COLUMN sum INTEGER NOT NULL DEFAULT 0;
