/**
 * Brings a database to the shape that this app knows: numbered SQL files, each applied once, in order, in a transaction
 * of its own, under a lock that lets only one process do so. A database that is newer than the app is refused untouched.
 */
import { createHash } from "node:crypto";
import { readdir, readFile } from "node:fs/promises";
import { fail, invariant, ok, type Result } from "../domain/result.js";
import type { Database, HeldConnection } from "./database.js";

/** One numbered SQL file. */
export interface Migration {
  readonly number: number;
  readonly name: string;
  readonly sql: string;
}

/** The SQL files lie in src, beside the built code as well. */
const FOLDER = new URL("../../src/store/migrations/", import.meta.url);
/** Any number that no other lock of this app has. */
const MIGRATION_LOCK = 4630_0001;

/** The migrations of this app, in order. */
export async function readMigrations(folder: URL = FOLDER): Promise<readonly Migration[]> {
  const names = (await readdir(folder)).filter((name) => name.endsWith(".sql")).toSorted();
  const migrations = await Promise.all(
    names.map(async (name) => ({
      number: Number(name.slice(0, 4)),
      name,
      sql: await readFile(new URL(name, folder), "utf8"),
    })),
  );
  migrations.forEach(({ number, name }, index) => {
    invariant(
      number === index + 1,
      `the migrations are numbered from 0001 without a gap, but ${name} is not`,
    );
  });
  return migrations;
}

/** Applies what is missing. Fails with a sentence where the database is newer than the app, or has another history. */
export async function migrate(
  database: Database,
  migrations: readonly Migration[],
): Promise<Result<void, string>> {
  const connection = await database.connect();
  try {
    await connection.query("select pg_advisory_lock($1)", [MIGRATION_LOCK]);
    return await applyMissing(connection, migrations);
  } finally {
    // The lock goes with its connection.
    await connection.release();
  }
}

async function applyMissing(
  connection: HeldConnection,
  migrations: readonly Migration[],
): Promise<Result<void, string>> {
  await connection.query(
    `create table if not exists migration (
       number integer primary key,
       name text not null,
       digest text not null,
       applied_at timestamptz not null default now()
     )`,
  );
  const applied = await connection.query<{ number: number; name: string; digest: string }>(
    "select number, name, digest from migration order by number",
  );
  const newest = applied.at(-1);
  if (newest !== undefined && newest.number > migrations.length) {
    return fail(
      `The database is newer than this program: it has been through "${newest.name}", which this version does not know. ` +
        "Start the newer version of the program again, or restore a backup that this version has made.",
    );
  }
  for (const { number, name, digest } of applied) {
    const known = migrations[number - 1];
    if (known === undefined || digestOf(known) !== digest) {
      return fail(
        `The database has been through another version of "${name}" than this program has, so it is left alone. ` +
          "Start the version of the program that made it, write a backup there, and restore that here.",
      );
    }
  }
  for (const migration of migrations.slice(applied.length)) await apply(connection, migration);
  return ok(undefined);
}

async function apply(connection: HeldConnection, migration: Migration): Promise<void> {
  await connection.query("begin");
  try {
    await connection.query(migration.sql);
    await connection.query("insert into migration (number, name, digest) values ($1, $2, $3)", [
      migration.number,
      migration.name,
      digestOf(migration),
    ]);
    await connection.query("commit");
  } catch (error) {
    await connection.query("rollback");
    throw error;
  }
}

/** Of the words only: how a checkout ends its lines is no other history. */
function digestOf({ sql }: Migration): string {
  return createHash("sha256").update(sql.replaceAll("\r\n", "\n")).digest("hex");
}
