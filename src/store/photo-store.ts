/**
 * Photos from site, as rows: each with a scaled JPEG and a small one, and written with the change that puts it on record.
 * A photo whose change has been taken back is kept in the table and shown to nobody; should the undo be taken back, it is
 * there again.
 */
import type { Queries } from "./database.js";
import { standsSql } from "./standing-change.js";

/** A photo without the picture. */
export interface PhotoRow {
  readonly id: number;
  /** The change that put it on record. */
  readonly version: number;
  /** The report that it belongs to; null where it came by itself. */
  readonly reportKey: string | null;
  readonly jobId: string;
  /** Null where it is of no task in particular. */
  readonly taskId: string | null;
  readonly crewId: string;
  readonly takenAt: Date;
  readonly receivedAt: Date;
  readonly saidBy: string;
  /** Of the larger picture. */
  readonly width: number;
  readonly height: number;
}

export interface NewPhoto extends Omit<PhotoRow, "id" | "version"> {
  /** Made where the photo was chosen: what comes with it again is the same photo. */
  readonly key: string;
  /** JPEG. */
  readonly bytes: Uint8Array;
  /** The same picture for a list: JPEG. */
  readonly small: Uint8Array;
  /** Of `bytes`, in letters that an HTTP header takes. */
  readonly digest: string;
}

export type PhotoSize = "whole" | "small";

/** A picture as it is sent. */
export interface PhotoFile {
  readonly crewId: string;
  readonly bytes: Uint8Array;
  readonly digest: string;
}

const COLUMNS = `photo.id, photo.version, photo.report_key as "reportKey", photo.job_id as "jobId",
  photo.task_id as "taskId", photo.crew_id as "crewId", photo.taken_at as "takenAt",
  photo.received_at as "receivedAt", photo.said_by as "saidBy", photo.width, photo.height`;

const STANDS = standsSql("photo.version");

/** Whether a photo of that key has come before, taken back or not. */
export async function hasPhoto(queries: Queries, key: string): Promise<boolean> {
  return (await queries.query("select 1 from photo where key = $1", [key])).length > 0;
}

/** Writes a photo; its change must be on record already. */
export async function insertPhoto(queries: Queries, version: number, photo: NewPhoto): Promise<void> {
  await queries.query(
    `insert into photo (key, version, report_key, job_id, task_id, crew_id, taken_at, received_at, said_by,
       width, height, bytes, small, digest)
     values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14)`,
    [
      photo.key,
      version,
      photo.reportKey,
      photo.jobId,
      photo.taskId,
      photo.crewId,
      photo.takenAt,
      photo.receivedAt,
      photo.saidBy,
      photo.width,
      photo.height,
      photo.bytes,
      photo.small,
      photo.digest,
    ],
  );
}

/** Of a house, the newest first. */
export function listPhotosOfJob(queries: Queries, jobId: string): Promise<readonly PhotoRow[]> {
  return queries.query(
    `select ${COLUMNS} from photo where photo.job_id = $1 and ${STANDS} order by photo.taken_at desc, photo.id desc`,
    [jobId],
  );
}

/** By a crew, those that came last first, at most `limit`. */
export function listPhotosOfCrew(
  queries: Queries,
  crewId: string,
  limit: number,
): Promise<readonly PhotoRow[]> {
  return queries.query(
    `select ${COLUMNS} from photo where photo.crew_id = $1 and ${STANDS} order by photo.id desc limit $2`,
    [crewId, limit],
  );
}

/** Of reports by their keys, in the order in which they came. */
export function listPhotosOfReports(queries: Queries, keys: readonly string[]): Promise<readonly PhotoRow[]> {
  return queries.query(
    `select ${COLUMNS} from photo where photo.report_key = any($1::uuid[]) and ${STANDS} order by photo.id`,
    [keys],
  );
}

/** Of changes by their versions. */
export function listPhotosOfChanges(
  queries: Queries,
  versions: readonly number[],
): Promise<readonly PhotoRow[]> {
  return queries.query(
    `select ${COLUMNS} from photo where photo.version = any($1::bigint[]) and ${STANDS} order by photo.id`,
    [versions],
  );
}

/** The picture; undefined where there is none, or its change has been taken back. */
export async function findPhotoFile(
  queries: Queries,
  id: number,
  size: PhotoSize,
): Promise<PhotoFile | undefined> {
  const column = { whole: "bytes", small: "small" }[size];
  const [row] = await queries.query<PhotoFile>(
    `select photo.crew_id as "crewId", photo.${column} as bytes, photo.digest
     from photo where photo.id = $1 and ${STANDS}`,
    [id],
  );
  return row;
}
