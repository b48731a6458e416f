import type { Database, SqlJsStatic, Statement } from "sql.js";

export type SqlValue = number | string | Uint8Array | null;
export type SqlRow = readonly SqlValue[];

let loading: Promise<SqlJsStatic> | undefined;

/** SQLite, loaded the first time that it is needed: a site without GeoPackage never waits for it. */
export async function loadSqlite(): Promise<SqlJsStatic> {
  loading ??= import("sql.js/dist/sql-wasm-inline.js").then((module) => module.default());
  return loading;
}

/** A name in SQL: doubled quotes, so that no name can end its own quoting. */
export function quoted(name: string): string {
  return `"${name.replaceAll('"', '""')}"`;
}

/** A database in memory, read only as far as rows are asked for. */
export class SqlFile {
  readonly #database: Database;

  private constructor(database: Database) {
    this.#database = database;
  }

  /** Opens the bytes. Throws where they are no database that SQLite understands. */
  static async open(bytes: Uint8Array): Promise<SqlFile> {
    const sqlite = await loadSqlite();
    const file = new SqlFile(new sqlite.Database(bytes));
    // The file's own schema may call no function with effects, and nothing is ever written.
    file.#database.exec(
      "PRAGMA trusted_schema = OFF; PRAGMA query_only = ON; PRAGMA cell_size_check = ON;",
    );
    return file;
  }

  /** Rows one by one. Throws on a damaged page. */
  *rows(sql: string, values: SqlValue[] = []): Generator<SqlRow> {
    const statement: Statement = this.#database.prepare(sql, values);
    try {
      while (statement.step()) yield statement.get();
    } finally {
      statement.free();
    }
  }

  /** True where it is a table of rows: no view and no virtual table, whose content is a program. */
  isPlainTable(name: string): boolean {
    const found = this.rows(
      "SELECT sql FROM sqlite_master WHERE type = 'table' AND name = ? COLLATE NOCASE",
      [name],
    );
    for (const [sql] of found) return !/^\s*CREATE\s+VIRTUAL/i.test(String(sql));
    return false;
  }

  /** Stored columns: name, declared type in capitals, place in the primary key (0 for none). */
  columns(table: string): { name: string; type: string; key: number }[] {
    return [...this.rows(`PRAGMA table_info(${quoted(table)})`)].map((row) => ({
      name: String(row[1]),
      type: String(row[2]).toUpperCase(),
      key: Number(row[5]),
    }));
  }

  close(): void {
    this.#database.close();
  }
}
