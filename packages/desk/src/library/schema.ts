/** The library's tables, and how older ones become the present ones. Everything but decisions can be rebuilt. */
import type Database from 'libsql';

/** One step each; the schema number is the number of steps done. A step, once released, is never changed. */
const steps: readonly string[] = [
  `
  CREATE TABLE settings (name TEXT PRIMARY KEY, value TEXT NOT NULL);
  CREATE TABLE frames (
    id TEXT PRIMARY KEY,          -- of the content
    path TEXT NOT NULL,
    bytes INTEGER NOT NULL,
    modified_ms REAL NOT NULL,
    about TEXT NOT NULL,          -- JSON: its kind, what it says of itself, the guessed point
    survey BLOB                   -- tile grid and small luma
  );
  CREATE INDEX frames_by_path ON frames (path);
  CREATE TABLE measures (
    frame_id TEXT PRIMARY KEY REFERENCES frames (id),
    series_id TEXT NOT NULL,
    position INTEGER NOT NULL,
    measured TEXT NOT NULL        -- JSON: a frame of the measure document
  );
  CREATE TABLE series (
    id TEXT PRIMARY KEY,
    position INTEGER NOT NULL,
    found TEXT NOT NULL           -- JSON: a series of the measure document
  );
  CREATE TABLE names (series_id TEXT PRIMARY KEY, name TEXT NOT NULL);
  CREATE TABLE points (
    frame_id TEXT PRIMARY KEY,    -- the frame it was marked in
    x REAL NOT NULL,
    y REAL NOT NULL
  );
  CREATE TABLE decisions (
    frame_id TEXT PRIMARY KEY,
    decision TEXT NOT NULL CHECK (decision IN ('keep', 'maybe', 'out'))
  );
  CREATE TABLE failed (file TEXT PRIMARY KEY, reason TEXT NOT NULL);
  CREATE TABLE pictures (id TEXT PRIMARY KEY, made_at TEXT NOT NULL, picture TEXT NOT NULL, path TEXT NOT NULL);
  `,
  // Several folders beside one another: what was measured in one stays when the next is measured. What is here
  // already belongs to the folder that was opened last; the invented outing has none, and its folder is ''.
  `
  CREATE TABLE folders (path TEXT PRIMARY KEY, measured_at TEXT NOT NULL);
  INSERT INTO folders
    SELECT coalesce((SELECT value FROM settings WHERE name = 'folder'), ''), ''
    WHERE EXISTS (SELECT 1 FROM measures);
  CREATE TABLE measures_by_folder (
    folder TEXT NOT NULL REFERENCES folders (path),
    frame_id TEXT NOT NULL,       -- no reference: a file that changed takes its old frame away first
    series_id TEXT NOT NULL,
    position INTEGER NOT NULL,
    measured TEXT NOT NULL,
    PRIMARY KEY (folder, frame_id)
  );
  INSERT INTO measures_by_folder
    SELECT folders.path, frame_id, series_id, position, measured FROM measures, folders;
  CREATE TABLE series_by_folder (
    folder TEXT NOT NULL, id TEXT NOT NULL, position INTEGER NOT NULL, found TEXT NOT NULL, PRIMARY KEY (folder, id)
  );
  INSERT INTO series_by_folder SELECT folders.path, id, position, found FROM series, folders;
  CREATE TABLE names_by_folder (
    folder TEXT NOT NULL, series_id TEXT NOT NULL, name TEXT NOT NULL, PRIMARY KEY (folder, series_id)
  );
  INSERT INTO names_by_folder SELECT folders.path, series_id, name FROM names, folders;
  CREATE TABLE failed_by_folder (
    folder TEXT NOT NULL, file TEXT NOT NULL, reason TEXT NOT NULL, PRIMARY KEY (folder, file)
  );
  INSERT INTO failed_by_folder SELECT folders.path, file, reason FROM failed, folders;
  DROP TABLE measures; DROP TABLE series; DROP TABLE names; DROP TABLE failed;
  ALTER TABLE measures_by_folder RENAME TO measures;
  ALTER TABLE series_by_folder RENAME TO series;
  ALTER TABLE names_by_folder RENAME TO names;
  ALTER TABLE failed_by_folder RENAME TO failed;
  `,
  // What came of decisions: ratings written into sidecars, and files moved to the folder beside.
  `
  CREATE TABLE written_ratings (frame_id TEXT PRIMARY KEY, rating INTEGER NOT NULL);
  CREATE TABLE moves (
    id INTEGER PRIMARY KEY,
    frame_id TEXT NOT NULL,
    from_path TEXT NOT NULL,
    to_path TEXT NOT NULL,
    is_frame INTEGER NOT NULL
  );
  `,
  // What the photographer says of a folder: which frames are one series, what a series shows, what was the same all
  // through the outing.
  `
  CREATE TABLE own_series (
    folder TEXT NOT NULL, frame_id TEXT NOT NULL, series TEXT NOT NULL, PRIMARY KEY (folder, frame_id)
  );
  CREATE TABLE shows (
    folder TEXT NOT NULL, series_id TEXT NOT NULL, view TEXT NOT NULL, PRIMARY KEY (folder, series_id)
  );
  CREATE TABLE outings (
    folder TEXT PRIMARY KEY,
    set_up TEXT NOT NULL          -- JSON: its site, lens and support
  );
  `,
];

export const schemaNumber = steps.length;

/**
 * Brings a database to the present schema, step by step, each in a transaction of its own.
 *
 * @throws Error with a sentence when the database was written by a newer version
 */
export function migrate(database: Database.Database): void {
  const row = database.prepare('PRAGMA user_version').get() as { user_version: number };
  const from = row.user_version;
  if (from > schemaNumber) {
    throw new Error(
      `The library was written by a newer Tepal (schema ${from}; this one knows ${schemaNumber}). Update Tepal to open it.`,
    );
  }
  steps.slice(from).forEach((step, i) => {
    database.exec(`BEGIN; ${step} PRAGMA user_version = ${from + i + 1}; COMMIT;`);
  });
}
