/**
 * How the processes that serve one company hear of each other: notifications of the database, on a connection that is
 * made again when it is lost, and a lock by which one of them plans while the others wait.
 */
import { CHANGES } from "../store/company-store.js";
import type { Database, HeldConnection } from "../store/database.js";
import { PLANS } from "../store/plan-store.js";
import { REPORT_MARKS } from "../store/site-report-store.js";

/** Where a notification is lost with its connection, this is how late it is noticed. */
const RETRY_MS = 1_000;

/** What a process hears: that the company or its plan may be another one, or that the office has marked a report. */
export type Heard = "standing" | "report-marked";

export class DeskWire {
  readonly #database: Database;
  readonly #hear: (what: Heard) => void;
  readonly #log: (error: unknown) => void;
  #connection: HeldConnection | undefined;
  #retry: NodeJS.Timeout | undefined;
  #isClosed = false;
  #waiting: (() => void)[] = [];

  /** `hear` is called after each change, plan or mark of any process, also of this one. */
  constructor(database: Database, hear: (what: Heard) => void, log: (error: unknown) => void) {
    this.#database = database;
    this.#hear = hear;
    this.#log = log;
  }

  async open(): Promise<void> {
    const connection = await this.#database.connect();
    if (this.#isClosed) return connection.release();
    this.#connection = connection;
    connection.onNotification((channel) => {
      if (channel === REPORT_MARKS) this.#hear("report-marked");
      else this.#tell();
    });
    connection.onLost(() => {
      this.#connection = undefined;
      this.#reopenLater();
    });
    await connection.query(`listen ${CHANGES}`);
    await connection.query(`listen ${PLANS}`);
    await connection.query(`listen ${REPORT_MARKS}`);
  }

  /** Resolves at the next notification, or after a while in which there was none. */
  next(): Promise<void> {
    return new Promise((resolve) => {
      const timer = setTimeout(resolve, RETRY_MS);
      this.#waiting.push(() => {
        clearTimeout(timer);
        resolve();
      });
    });
  }

  /**
   * Runs `work` where no other process runs it for the same number; undefined where one does. Without a connection it
   * is run: better twice than not at all.
   */
  async alone<T>(number: number, work: () => Promise<T>): Promise<T | undefined> {
    const connection = this.#connection;
    if (connection === undefined) return work();
    const key = number % 2 ** 31;
    const [row] = await connection.query<{ locked: boolean }>(
      "select pg_try_advisory_lock($1, $2) as locked",
      [PLANNING_LOCK, key],
    );
    if (row?.locked !== true) return undefined;
    try {
      return await work();
    } finally {
      await connection
        .query("select pg_advisory_unlock($1, $2)", [PLANNING_LOCK, key])
        .catch((error: unknown) => this.#log(error));
    }
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    clearTimeout(this.#retry);
    this.#wake();
    await this.#connection?.release();
    this.#connection = undefined;
  }

  #tell(): void {
    this.#wake();
    this.#hear("standing");
  }

  #wake(): void {
    const waiting = this.#waiting;
    this.#waiting = [];
    for (const resolve of waiting) resolve();
  }

  #reopenLater(): void {
    if (this.#isClosed) return;
    this.#retry = setTimeout(() => {
      this.open().then(
        // What was told meanwhile was told to nobody.
        () => {
          this.#tell();
          this.#hear("report-marked");
        },
        (error: unknown) => {
          this.#log(error);
          this.#reopenLater();
        },
      );
    }, RETRY_MS);
  }
}

/** Any number that no other lock of this app has, with the version of the company beside it. */
const PLANNING_LOCK = 4630;
