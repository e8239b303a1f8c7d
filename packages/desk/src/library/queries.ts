/** The few ways in which the library speaks to SQLite. */
import type Database from 'libsql';

export function queriesOn(database: Database.Database) {
  const run = (sql: string, ...values: unknown[]) => database.prepare(sql).run(...values);
  const one = <Row>(sql: string, ...values: unknown[]) =>
    database.prepare(sql).get(...values) as Row | undefined;
  const all = <Row>(sql: string, ...values: unknown[]) => database.prepare(sql).all(...values) as Row[];
  const together = (work: () => void) => {
    database.exec('BEGIN');
    try {
      work();
      database.exec('COMMIT');
    } catch (error) {
      database.exec('ROLLBACK');
      throw error;
    }
  };
  return { run, one, all, together };
}
