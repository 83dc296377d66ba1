/**
 * Photos from site as a page shows them: small, each with what it is of, who took it and when. Where the pictures are
 * asked for is the page's business.
 */
import { zoneOfJob, type Company } from "../domain/company-schema.js";
import { minuteOfDate } from "../domain/time.js";
import { taskTitle } from "./board-tags.js";
import { PHOTO_WORDS } from "./photo-words.js";
import { dayAndClock, type Language } from "./spoken-time.js";

/** A photo that is kept, without the picture. */
export interface PhotoFacts {
  readonly id: number;
  readonly jobId: string;
  readonly taskId: string | null;
  readonly crewId: string;
  readonly takenAt: Date;
  /** Of the larger picture, in pixels. */
  readonly width: number;
  readonly height: number;
}

export interface PhotoView {
  readonly id: number;
  /** Of the small picture, in pixels, so that the page does not jump when it comes. */
  readonly width: number;
  readonly height: number;
  readonly alt: string;
  /** "Alder, Tue 8 Dec, 2:15 pm", or what it shows in the place of the crew. */
  readonly caption: string;
}

/** The longer side of a small picture, in pixels. */
const SMALL_SIDE = 320;

/** In the order in which they were given. `under`: what a caption begins with. */
export function buildPhotoViews(
  company: Company,
  photos: readonly PhotoFacts[],
  language: Language,
  under: "crew" | "work" = "crew",
): readonly PhotoView[] {
  const words = PHOTO_WORDS[language];
  return photos.map((photo) => {
    const job = company.jobs.find(({ id }) => id === photo.jobId);
    const task = job?.tasks.find(({ id }) => id === photo.taskId);
    const crew = company.crews.find(({ id }) => id === photo.crewId)?.name ?? photo.crewId;
    const zone = job === undefined ? company.company.timeZone : zoneOfJob(company, job);
    const when = dayAndClock(minuteOfDate(photo.takenAt), zone, language);
    const house = job?.name ?? photo.jobId;
    const what = task === undefined ? house : `${house}: ${taskTitle(task.title, task.area)}`;
    const scale = Math.min(1, SMALL_SIDE / Math.max(photo.width, photo.height));
    return {
      id: photo.id,
      width: Math.max(1, Math.round(photo.width * scale)),
      height: Math.max(1, Math.round(photo.height * scale)),
      alt: words.alt(what, crew, when),
      caption: `${under === "crew" ? crew : what}, ${when}`,
    };
  });
}

/** Photos of a house by its tasks; those of the house itself, or of a task that it no longer has, under null. */
export function groupByTask<Photo extends PhotoFacts>(
  photos: readonly Photo[],
  taskIds: readonly string[],
): ReadonlyMap<string | null, readonly Photo[]> {
  const groups = new Map<string | null, Photo[]>();
  for (const photo of photos) {
    const task = photo.taskId !== null && taskIds.includes(photo.taskId) ? photo.taskId : null;
    groups.set(task, [...(groups.get(task) ?? []), photo]);
  }
  return groups;
}
