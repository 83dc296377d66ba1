/**
 * Reports from site, as rows. They are written in the transaction of the change that they are; only the mark that the
 * office is done with one is a write of its own. A report whose change was taken back stays and says so.
 */
import { reportBodySchema, type ReportKind, type SiteReport } from "../domain/site-report.js";
import type { CivilDate } from "../domain/time.js";
import type { Database, Queries } from "./database.js";
import { standsSql } from "./standing-change.js";

/** The channel on which a mark of the office on a report is told. */
export const REPORT_MARKS = "daylap_report_mark";

export type NewSiteReport = Omit<SiteReport, "id" | "version" | "settledAt" | "settledBy" | "isTakenBack">;

interface Row extends Omit<SiteReport, "body"> {
  readonly kind: string;
  readonly body: unknown;
}

const COLUMNS = `site_report.id, site_report.key::text as key, site_report.version, site_report.crew_id as "crewId",
  site_report.date, site_report.kind, site_report.job_id as "jobId", site_report.task_id as "taskId", site_report.body,
  site_report.said_at as "saidAt", site_report.received_at as "receivedAt", site_report.said_by as "saidBy",
  site_report.applied, site_report.meets, site_report.met, site_report.settled_at as "settledAt", site_report.settled_by as "settledBy",
  not ${standsSql("site_report.version")} as "isTakenBack"`;

/** The office has not done with it, and nobody has taken it back. */
const OPEN = `site_report.settled_at is null and ${standsSql("site_report.version")}`;

/** Writes a report; its change must be on record already. */
export async function insertReport(queries: Queries, version: number, report: NewSiteReport): Promise<void> {
  const { kind, ...body } = report.body;
  await queries.query(
    `insert into site_report (key, version, crew_id, date, kind, job_id, task_id, said_at, received_at, said_by, body,
       applied, meets, met)
     values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14)`,
    [
      report.key,
      version,
      report.crewId,
      report.date,
      kind,
      report.jobId,
      report.taskId,
      report.saidAt,
      report.receivedAt,
      report.saidBy,
      JSON.stringify(body),
      report.applied,
      report.meets,
      [...report.met],
    ],
  );
  // The office's open pages hear of it with the commit, and need not wait for the plan that has it.
  await tellOfMark(queries);
}

async function tellOfMark(queries: Queries): Promise<void> {
  await queries.query("select nextval('site_report_mark'), pg_notify($1, '')", [REPORT_MARKS]);
}

/** The report of that key, taken back or not; undefined where none has come. */
export async function findReport(queries: Queries, key: string): Promise<SiteReport | undefined> {
  const [row] = await queries.query<Row>(`select ${COLUMNS} from site_report where key = $1`, [key]);
  return row && toReport(row);
}

/** The report that a change is; undefined where it is another kind of change. */
export async function findReportOfChange(queries: Queries, version: number): Promise<SiteReport | undefined> {
  const [row] = await queries.query<Row>(`select ${COLUMNS} from site_report where version = $1`, [version]);
  return row && toReport(row);
}

/** What stands of what was said of a task, in the order in which it was said. */
export async function listReportsOfTask(
  queries: Queries,
  jobId: string,
  taskId: string,
): Promise<readonly SiteReport[]> {
  const rows = await queries.query<Row>(
    `select ${COLUMNS} from site_report
     where job_id = $1 and task_id = $2 and ${standsSql("site_report.version")} order by said_at, id`,
    [jobId, taskId],
  );
  return rows.map(toReport);
}

/** What has been said since a change of one of these tasks (`house/task`) and stands, oldest first. */
export async function listReportsSince(
  queries: Queries,
  version: number,
  tasks: readonly string[],
): Promise<readonly SiteReport[]> {
  const rows = await queries.query<Row>(
    `select ${COLUMNS} from site_report
     where version > $1 and job_id || '/' || task_id = any($2::text[]) and ${standsSql("site_report.version")}
     order by version`,
    [version, [...tasks]],
  );
  return rows.map(toReport);
}

export class SiteReportStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  /** Those that the office has not done with first, then the newest first. */
  async list(limit: number): Promise<readonly SiteReport[]> {
    return this.#list(`true order by (${OPEN}) desc, site_report.id desc limit $1`, [limit]);
  }

  /** Of one house, the newest first. */
  async listOfJob(jobId: string, limit: number): Promise<readonly SiteReport[]> {
    return this.#list("job_id = $1 order by site_report.id desc limit $2", [jobId, limit]);
  }

  /** What a crew has said about a day or on it (`from` to `to`), the newest first. */
  async listOfCrewDay(
    crewId: string,
    day: { readonly date: CivilDate; readonly from: Date; readonly to: Date },
    limit: number,
  ): Promise<readonly SiteReport[]> {
    return this.#list(
      "crew_id = $1 and (date = $2 or said_at >= $3 and said_at < $4) order by said_at desc, site_report.id desc limit $5",
      [crewId, day.date, day.from, day.to, limit],
    );
  }

  /** How many the office has not done with, and a number that is another one after each report and each mark of the office. */
  async standing(): Promise<{ readonly open: number; readonly mark: number }> {
    const [row] = await this.#database.query<{ open: number; mark: number }>(
      `select (select count(*) from site_report where ${OPEN}) as open,
         case when is_called then last_value else 0 end as mark from site_report_mark`,
    );
    return row ?? { open: 0, mark: 0 };
  }

  async find(id: number): Promise<SiteReport | undefined> {
    const [row] = await this.#list("site_report.id = $1", [id]);
    return row;
  }

  /** Marks a report as settled, or takes the mark away; undefined where there is no such report. */
  async settle(
    id: number,
    mark: { readonly at: Date; readonly by: string } | null,
  ): Promise<SiteReport | undefined> {
    await this.#database.transaction(async (queries) => {
      // Whoever was first has settled it.
      const marked = await queries.query(
        `update site_report set settled_at = $2, settled_by = $3
         where id = $1 and (settled_at is null) = ($2::timestamptz is not null) returning id`,
        [id, mark?.at ?? null, mark?.by ?? null],
      );
      if (marked.length === 0) return;
      await tellOfMark(queries);
    });
    return this.find(id);
  }

  async #list(
    condition: string,
    values: readonly (string | number | Date)[],
  ): Promise<readonly SiteReport[]> {
    const rows = await this.#database.query<Row>(`select ${COLUMNS} from site_report where ${condition}`, [
      ...values,
    ]);
    return rows.map(toReport);
  }
}

function toReport({ kind, body, ...row }: Row): SiteReport {
  const said: object = typeof body === "object" && body !== null ? body : {};
  // What was written has passed this schema.
  return { ...row, body: reportBodySchema.parse({ ...said, kind: kind satisfies string as ReportKind }) };
}
