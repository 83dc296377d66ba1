/**
 * Photos from site: checked, made into what is kept, and written with a row of the record in one transaction, each once
 * however often it is sent; and read again by house, by report, by change. Whatever can be read is taken, also for a house
 * or a task that is gone by now: it is on record then.
 */
import { taskTitle } from "../board/board-tags.js";
import type { Company, Crew } from "../domain/company-schema.js";
import type { Actor } from "../domain/person.js";
import { fail, invariant, ok, type Result } from "../domain/result.js";
import { CompanyStore } from "../store/company-store.js";
import type { Database } from "../store/database.js";
import type { ChangeEntry } from "../store/record-store.js";
import {
  findPhotoFile,
  hasPhoto,
  insertPhoto,
  listPhotosOfChanges,
  listPhotosOfCrew,
  listPhotosOfJob,
  listPhotosOfReports,
  type NewPhoto,
  type PhotoFile,
  type PhotoRow,
  type PhotoSize,
} from "../store/photo-store.js";
import { machineClock, type Clock } from "./clock.js";
import { makePicture, type PictureFault } from "./photos/picture.js";

/** A photo as it is sent. */
export interface SentPhoto {
  /** A UUID, made where it was chosen. */
  readonly key: string;
  readonly reportKey: string | null;
  readonly jobId: string;
  readonly taskId: string | null;
  readonly crew: Crew;
  /** As it stood when the photo came: names for the record. */
  readonly company: Company;
  /** By the office's clock, whatever the phone's says; null where it is not known. */
  readonly takenAt: Date | null;
  readonly file: Uint8Array;
}

/** "taken-before": it has come already, and nothing was written. */
export type PhotoTaken = "taken" | "taken-before";

export interface Photos {
  /** Takes a photo, for the record by `by`. */
  take(photo: SentPhoto, by: Actor): Promise<Result<PhotoTaken, PictureFault>>;
  /** Of a house, the newest first. */
  ofJob(jobId: string): Promise<readonly PhotoRow[]>;
  /** By a crew, the newest first, at most `limit`. */
  ofCrew(crewId: string, limit: number): Promise<readonly PhotoRow[]>;
  /** Whether a photo of that key has been taken. */
  has(key: string): Promise<boolean>;
  /** Of reports by their keys. */
  ofReports(keys: readonly string[]): Promise<readonly PhotoRow[]>;
  /** Of changes on record by their versions. */
  ofChanges(versions: readonly number[]): Promise<readonly PhotoRow[]>;
  /** Undefined where there is no such photo, or it has been taken back. */
  find(id: number, size: PhotoSize): Promise<PhotoFile | undefined>;
}

/** The photos of a database that has been migrated. `clock`: when one is received; `now`: when it is put on record. */
export function openPhotos(
  database: Database,
  clock: Clock = machineClock,
  now: () => Date = () => new Date(),
): Photos {
  const store = new CompanyStore(database);
  return {
    async take(sent, by) {
      if (await hasPhoto(database, sent.key)) return ok("taken-before");
      const picture = await makePicture(sent.file);
      if (!picture.ok) return picture;
      const receivedAt = new Date(clock() * MS_PER_MINUTE);
      const { key, reportKey, jobId, taskId, crew } = sent;
      const takenAt = earlier(sent.takenAt ?? receivedAt, receivedAt);
      const about = { key, reportKey, jobId, taskId, crewId: crew.id, takenAt, receivedAt };
      const photo = { ...about, saidBy: by.personName, ...picture.value };
      const { personId, personName } = by;
      const entry = { madeAt: now(), personId, personName, kind: "photo-added", why: "" };
      return writePhoto(store, photo, { ...entry, sentence: sayAdded(sent) });
    },
    ofJob: (jobId) => listPhotosOfJob(database, jobId),
    ofCrew: (crewId, limit) => listPhotosOfCrew(database, crewId, limit),
    has: (key) => hasPhoto(database, key),
    ofReports: (keys) => (keys.length === 0 ? NONE : listPhotosOfReports(database, keys)),
    ofChanges: (versions) => (versions.length === 0 ? NONE : listPhotosOfChanges(database, versions)),
    find: (id, size) => findPhotoFile(database, id, size),
  };
}

const MS_PER_MINUTE = 60_000;
const NONE = Promise.resolve([]);
const earlier = (one: Date, other: Date): Date => (one < other ? one : other);

async function writePhoto(
  store: CompanyStore,
  photo: NewPhoto,
  entry: ChangeEntry,
): Promise<Result<PhotoTaken, never>> {
  const written = await store.write<PhotoTaken>(async ({ source }, queries) => {
    // The same photo may have come while this one was being looked at.
    if (await hasPhoto(queries, photo.key)) return fail("taken-before");
    invariant(source !== undefined, "there is a company, for a crew of it has sent the photo");
    return ok({ source, entry, also: (within, version) => insertPhoto(within, version, photo) });
  });
  return ok(written.ok ? "taken" : written.error);
}

/** "Photo from Alder: 12 Harbor Road, Siding, front." */
function sayAdded({ company, crew, jobId, taskId }: SentPhoto): string {
  const job = company.jobs.find(({ id }) => id === jobId);
  if (job === undefined) return `Photo from ${crew.name}: house "${jobId}", which is not there any more.`;
  if (taskId === null) return `Photo from ${crew.name}: ${job.name}.`;
  const task = job.tasks.find(({ id }) => id === taskId);
  const what =
    task === undefined ? `task "${taskId}", which is not there any more` : taskTitle(task.title, task.area);
  return `Photo from ${crew.name}: ${job.name}, ${what}.`;
}

/** Where there is no database: none, and none is taken. */
export const NO_PHOTOS: Photos = {
  take: () => Promise.reject(new Error("there is no database to keep a photo in")),
  ofJob: () => NONE,
  ofCrew: () => NONE,
  has: () => Promise.resolve(false),
  ofReports: () => NONE,
  ofChanges: () => NONE,
  find: () => Promise.resolve(undefined),
};
