-- The index. All of it follows from the bouts, so a newer version of it is made
-- anew instead of being migrated.

CREATE TABLE bout (
  id       INTEGER PRIMARY KEY, -- of its path, so that the order of bouts is the same however they came in
  path     TEXT NOT NULL UNIQUE,
  title    TEXT NOT NULL DEFAULT '',
  day      TEXT NOT NULL DEFAULT '', -- YYYY-MM-DD
  venue    TEXT NOT NULL DEFAULT '',
  home     TEXT NOT NULL DEFAULT '',
  away     TEXT NOT NULL DEFAULT '',
  edition  TEXT NOT NULL DEFAULT '',
  state    TEXT NOT NULL,
  reason   TEXT NOT NULL DEFAULT '',
  stamp    TEXT NOT NULL DEFAULT '', -- times and sizes of its files when it was read
  edits    INTEGER NOT NULL DEFAULT 0,
  digest   TEXT NOT NULL DEFAULT '', -- of the IDs of its edits
  root     TEXT NOT NULL DEFAULT '', -- its first edit, which copies share
  made     TEXT NOT NULL DEFAULT '', -- by which rules its entries were made
  indexed  INTEGER NOT NULL DEFAULT 0, -- seconds since 1970; 0: never
  entries  INTEGER NOT NULL DEFAULT 0,
  examples INTEGER NOT NULL DEFAULT 0
);
CREATE INDEX bout_root ON bout (root);

CREATE TABLE entry (
  id         INTEGER PRIMARY KEY,
  bout       INTEGER NOT NULL REFERENCES bout,
  place      INTEGER NOT NULL, -- in the order of the bout
  day        TEXT NOT NULL,    -- of the bout
  key        TEXT NOT NULL,
  kind       TEXT NOT NULL,    -- of tag; '' is a situation
  situation  TEXT NOT NULL,
  during     INTEGER NOT NULL, -- bits of the situations a tag lies in
  period     INTEGER NOT NULL,
  jam        INTEGER NOT NULL,
  timed      INTEGER NOT NULL,
  t_from     INTEGER NOT NULL, -- jam time in nanoseconds
  t_to       INTEGER NOT NULL,
  side       INTEGER NOT NULL,
  number     TEXT NOT NULL,
  name       TEXT NOT NULL,
  team       TEXT NOT NULL,
  code       TEXT NOT NULL,
  code_name  TEXT NOT NULL,
  rules      TEXT NOT NULL,    -- sections with blanks between
  note       TEXT NOT NULL,
  words      TEXT NOT NULL,
  edition    TEXT NOT NULL,
  ask        TEXT NOT NULL,    -- and all to "opinions": of examples
  asked      TEXT NOT NULL,    -- the question in the trainer's words as JSON, '' for none
  called     TEXT NOT NULL,    -- choice
  called_as  TEXT NOT NULL,    -- the answer as JSON, '' for none
  verdict    TEXT NOT NULL,    -- choice of the preferred one
  verdicts   TEXT NOT NULL,    -- as JSON, '' for none
  impact     TEXT NOT NULL,
  difficulty INTEGER NOT NULL,
  differing  INTEGER NOT NULL,
  source     TEXT NOT NULL,
  opinions   INTEGER NOT NULL,
  examples   INTEGER NOT NULL, -- made of this tag
  sensitive  INTEGER NOT NULL,
  footage    TEXT NOT NULL,
  film       TEXT NOT NULL,    -- path
  f_start    INTEGER NOT NULL, -- film time in nanoseconds
  f_end      INTEGER NOT NULL,
  still      TEXT NOT NULL     -- name of its picture, whether there is one or not
);
CREATE INDEX entry_newest ON entry (day DESC, bout, place, sensitive);
CREATE INDEX entry_oldest ON entry (day, bout, place, sensitive);
CREATE INDEX entry_kind ON entry (kind, day DESC, bout, place, sensitive);
CREATE INDEX entry_situation ON entry (situation, day DESC, bout, place, sensitive) WHERE situation <> '';
CREATE INDEX entry_bout ON entry (bout, place, sensitive);
CREATE INDEX entry_example ON entry (difficulty, day DESC, bout, place) WHERE kind = 'example';

-- Words and marks of each entry. The words come folded (see text.go) and every
-- sign beyond ASCII counts as a letter, so the database splits as we do.
CREATE VIRTUAL TABLE text USING fts5 (said, content='', contentless_delete=1, detail=none, tokenize='ascii');
