/**
 * The one way to PostgreSQL: queries, serializable transactions, notifications.
 * A transaction that another one got in the way of is tried again; what the database itself cannot do (it is not there,
 * its disk is full) is thrown as a DatabaseFailure, which the edge tells people about. SQL stays within version 15.
 */
import { Client, DatabaseError, Pool, types as builtIn } from "pg";
import type { ClientBase, ClientConfig, CustomTypesConfig, PoolClient } from "pg";
import { toDatabaseFailure } from "./database-failure.js";

type Value = string | number | boolean | null | Date | Uint8Array | readonly string[] | readonly number[];

export interface Queries {
  /** Runs one statement. The caller vouches for the shape of a row: it wrote the columns into the statement. */
  query<Row extends object>(sql: string, values?: readonly Value[]): Promise<readonly Row[]>;
}

export interface Database extends Queries {
  /**
   * Runs `work` in one serializable transaction, all of it or nothing. `work` may run more than once, so it must do
   * nothing but ask the database. What it throws undoes the transaction and comes out here.
   */
  transaction<T>(work: (queries: Queries) => Promise<T>): Promise<T>;
  /** A connection of its own, which is held until it is released: for listening and for locks that outlive a transaction. */
  connect(): Promise<HeldConnection>;
  close(): Promise<void>;
}

export interface HeldConnection extends Queries {
  onNotification(listener: (channel: string, payload: string) => void): void;
  /** Called once when the connection is lost; never after `release`. */
  onLost(listener: () => void): void;
  release(): Promise<void>;
}

/** The most transactions that one app process has under way at once. */
const MOST_CONNECTIONS = 10;
/** Far more than any statement of ours takes; one that hangs longer hangs for ever. */
const STATEMENT_TIMEOUT_MS = 30_000;
const CONNECT_TIMEOUT_MS = 5_000;
const MOST_TRIES = 20;
/** Serialization failure and deadlock: the transaction may be tried again as it is. */
const WORTH_ANOTHER_TRY: ReadonlySet<string> = new Set(["40001", "40P01"]);

const types: CustomTypesConfig = {
  getTypeParser: (oid, format) => {
    // int8: counts and versions stay far below 2 ** 53. date: a civil date is text here, not a moment.
    if (oid === builtIn.builtins.INT8) return Number;
    if (oid === builtIn.builtins.DATE) return String;
    return builtIn.getTypeParser(oid, format);
  },
};

/** Opens a database by its URL. Nothing is asked of it yet, so a wrong URL shows with the first query. */
export function openDatabase(url: string): Database {
  const settings = {
    connectionString: url,
    types,
    application_name: "daylap",
    connectionTimeoutMillis: CONNECT_TIMEOUT_MS,
    statement_timeout: STATEMENT_TIMEOUT_MS,
    idle_in_transaction_session_timeout: STATEMENT_TIMEOUT_MS,
    keepAlive: true,
  } satisfies ClientConfig;
  const pool = new Pool({ ...settings, max: MOST_CONNECTIONS });
  // A connection that breaks while nobody uses it is replaced by the pool; the next query tells if the server is gone.
  pool.on("error", () => undefined);
  return {
    query: (sql, values) => ask(pool, sql, values),
    transaction: (work) => transact(pool, work),
    connect: () => hold(new Client(settings)),
    close: () => pool.end(),
  };
}

async function ask<Row extends object>(
  client: Pool | ClientBase,
  sql: string,
  values: readonly Value[] = [],
): Promise<readonly Row[]> {
  try {
    return (await client.query<Row>(sql, [...values])).rows;
  } catch (error) {
    throw toDatabaseFailure(error);
  }
}

async function transact<T>(pool: Pool, work: (queries: Queries) => Promise<T>): Promise<T> {
  for (let tries = 1; ; tries += 1) {
    try {
      return await transactOnce(pool, work);
    } catch (error) {
      if (tries === MOST_TRIES || !isWorthAnotherTry(error)) throw toDatabaseFailure(error);
    }
  }
}

async function transactOnce<T>(pool: Pool, work: (queries: Queries) => Promise<T>): Promise<T> {
  const client = await pool.connect();
  let isBroken = false;
  try {
    await client.query("begin isolation level serializable");
    // A server may be set to answer before a commit is on its disk; what this app acknowledges is on the disk.
    await client.query("set local synchronous_commit = on");
    const value = await work({
      query: async (sql, values = []) => (await client.query(sql, [...values])).rows,
    });
    await client.query("commit");
    return value;
  } catch (error) {
    isBroken = await rollBack(client);
    throw error;
  } finally {
    client.release(isBroken);
  }
}

/** Whether the connection is no longer of use. */
async function rollBack(client: PoolClient): Promise<boolean> {
  try {
    await client.query("rollback");
    return false;
  } catch {
    // The error that led here is the one that is told; this connection is thrown away.
    return true;
  }
}

function isWorthAnotherTry(error: unknown): boolean {
  return error instanceof DatabaseError && WORTH_ANOTHER_TRY.has(error.code ?? "");
}

async function hold(client: Client): Promise<HeldConnection> {
  let onLost: () => void = () => undefined;
  const lose = (): void => {
    const listener = onLost;
    onLost = () => undefined;
    listener();
  };
  client.on("error", lose);
  client.on("end", lose);
  try {
    await client.connect();
  } catch (error) {
    throw toDatabaseFailure(error);
  }
  return {
    query: (sql, values) => ask(client, sql, values),
    onNotification: (listener) => {
      client.on("notification", ({ channel, payload }) => listener(channel, payload ?? ""));
    },
    onLost: (listener) => {
      onLost = listener;
    },
    release: async () => {
      onLost = () => undefined;
      await client.end();
    },
  };
}
