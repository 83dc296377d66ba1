/** The form by which a crew sends a photo: what stands in it, and what it said when it comes back. */
import { randomUUID } from "node:crypto";
import { taskTitle } from "../board/board-tags.js";
import { listDayTasks } from "../board/day-tasks.js";
import { PHOTO_WORDS, type PhotoWords } from "../board/photo-words.js";
import type { Reading } from "../board/reading.js";
import type { Language } from "../board/spoken-time.js";
import type { Crew } from "../domain/company-schema.js";
import { fail, ok, type Result } from "../domain/result.js";
import type { CivilDate } from "../domain/time.js";
import { textOf } from "./form-body.js";
import { toOfficeMinute, type OfficeTime } from "./said-time.js";

/** A house, or a task of it, that a photo may be of. */
export interface PhotoChoice {
  /** `job` or `job/task`. */
  readonly value: string;
  readonly text: string;
  readonly house: string;
}

export interface PhotoForm {
  readonly crewId: string;
  /** Made anew for each form, so that a photo that is sent twice is kept once. */
  readonly key: string;
  /** The day sheet to go on from. */
  readonly date: CivilDate;
  /** The key of the report that the photo belongs to; empty where it comes by itself. */
  readonly report: string;
  readonly choices: readonly PhotoChoice[];
  readonly chosen: string;
  readonly words: PhotoWords;
  /** What the choices are about, in short. */
  readonly about: string;
  /** The language that the address asks for; undefined where the page speaks the crew's own. */
  readonly asks: Language | undefined;
}

export interface PhotoFormFacts {
  readonly crewId: string;
  readonly date: CivilDate;
  readonly report?: string;
  /** What it may be of, the likeliest first. */
  readonly choices: readonly PhotoChoice[];
  readonly chosen?: string;
  readonly language: Language;
  readonly asks?: Language | undefined;
}

/** For views/partials/photo-form.ejs. */
export function buildPhotoForm(facts: PhotoFormFacts): PhotoForm {
  const { crewId, date, report = "", choices, chosen = "", language, asks } = facts;
  const about = [...new Set(choices.map(({ house }) => house))].join(", ");
  return {
    crewId,
    key: randomUUID(),
    date,
    report,
    choices,
    chosen,
    words: PHOTO_WORDS[language],
    about,
    asks,
  };
}

/**
 * What a crew's photo may be of: what it works on on those days, the likeliest first, what it has under way; of each house
 * its tasks and the house itself. `chosen`, where it is there at all, is among them.
 */
export function listPhotoChoices(
  reading: Reading,
  crew: Crew,
  days: readonly CivilDate[],
  language: Language,
  chosen = "",
): readonly PhotoChoice[] {
  const [chosenJob, chosenTask] = chosen.split("/");
  const work = days.flatMap((day) => listDayTasks(reading, crew, day));
  const jobs = new Set(work.map(({ job }) => job));
  const asked = reading.company.jobs.find(({ id }) => id === chosenJob);
  return [...jobs, ...(asked === undefined || jobs.has(asked) ? [] : [asked])].flatMap((job) => {
    const ids = new Set(work.filter((item) => item.job === job).map(({ task }) => task.id));
    const ofTasks = job.tasks
      .filter(({ id }) => ids.has(id) || (job === asked && id === chosenTask))
      .map(({ id, title, area }) => ({
        value: `${job.id}/${id}`,
        text: `${job.name}: ${taskTitle(title, area)}`,
        house: job.name,
      }));
    const whole = { value: job.id, text: PHOTO_WORDS[language].wholeHouse(job.name), house: job.name };
    return [...ofTasks, whole];
  });
}

/** What the form said, but for the photo. */
export interface PhotoFields {
  readonly key: string;
  readonly reportKey: string | null;
  readonly jobId: string;
  readonly taskId: string | null;
  readonly takenAt: Date | null;
}

const UUID = /^[0-9a-f]{8}-(?:[0-9a-f]{4}-){3}[0-9a-f]{12}$/i;
const ID = /^[A-Za-z0-9][A-Za-z0-9_.-]{0,63}$/;

export function isPhotoKey(text: string): boolean {
  return UUID.test(text);
}

/** Reads the fields; fails with a sentence for each that can mean nothing. */
export function parsePhotoFields(
  body: unknown,
  office: OfficeTime,
  words: PhotoWords,
): Result<PhotoFields, readonly string[]> {
  const [key, report, takenAt, sentAt] = ["key", "report", "takenAt", "sentAt"].map((name) =>
    textOf(body, name).trim(),
  );
  // A form that chooses between houses and their tasks at once names both in one field.
  const [jobId = "", ...rest] = textOf(body, "job").split("/");
  const taskId = textOf(body, "task") || rest.join("/");
  const minute = toOfficeMinute(takenAt ?? "", sentAt ?? "", office);
  const faults = [
    UUID.test(key ?? "") ? "" : words.noKey,
    report === "" || UUID.test(report ?? "") ? "" : words.noReport,
    ID.test(jobId) ? "" : words.noHouse,
    taskId === "" || ID.test(taskId) ? "" : words.noTask,
    takenAt === "" || minute !== undefined ? "" : words.noTime,
  ].filter((sentence) => sentence !== "");
  if (faults.length > 0) return fail(faults);
  return ok({
    key: (key ?? "").toLowerCase(),
    reportKey: report?.toLowerCase() || null,
    jobId,
    taskId: taskId === "" ? null : taskId,
    takenAt: minute === undefined ? null : new Date(minute * 60_000),
  });
}
