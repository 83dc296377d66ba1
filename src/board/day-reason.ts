/**
 * Why a task is not worked on a day for which it was published. The plan's own reason says what keeps it from starting a
 * minute sooner, which in the morning is the light or the shift; of the day before that it says nothing. So the day
 * itself is looked at: is the crew off, is the work on hold, does something come first, is the crew elsewhere?
 */
import type { Job, Task } from "../domain/company-schema.js";
import type { BecauseKind } from "../domain/plan-format.js";
import { civilDateAt, weekdayOf, type CivilDate } from "../domain/time.js";
import { isAtHouse, stopsTrade } from "../weather/hold-list.js";
import { taskTitle } from "./board-tags.js";
import { holdsOn } from "./hold-view.js";
import type { Reading } from "./reading.js";

export type DayReason =
  | { readonly kind: "crew-off"; readonly crewName: string; readonly date: CivilDate; readonly why: string }
  | { readonly kind: "hold"; readonly date: CivilDate; readonly why: string }
  | { readonly kind: "comes-after"; readonly title: string; readonly date: CivilDate }
  | { readonly kind: "elsewhere"; readonly crewName: string; readonly date: CivilDate; readonly job: Job };

/** What binds on the morning of any day, and so is no reason for another day. */
const MORNING: ReadonlySet<BecauseKind> = new Set(["start-of-plan", "no-light", "crew-off", "access"]);

/** Whether the plan's own reason is one of the day, or only one of the minute. */
export function isMorningReason(kind: BecauseKind): boolean {
  return MORNING.has(kind);
}

/** Undefined where nothing of the kind is known of that day. */
export function findDayReason(
  reading: Reading,
  job: Job,
  task: Task,
  crewId: string,
  date: CivilDate,
): DayReason | undefined {
  const crew = reading.crews.get(crewId);
  const off = crew?.off.find((days) => days.from <= date && date <= days.to);
  if (crew !== undefined && off !== undefined) {
    return { kind: "crew-off", crewName: crew.name, date, why: off.why };
  }
  if (
    crew !== undefined &&
    crew.week[weekdayOf(date)] === undefined &&
    !crew.extra.some((extra) => extra.date === date)
  ) {
    return { kind: "crew-off", crewName: crew.name, date, why: "" };
  }
  const trade = reading.trades.get(task.trade ?? "");
  const hold = holdsOn(reading.company, date).find((one) => isAtHouse(one, job.id) && stopsTrade(one, trade));
  if (hold !== undefined) return { kind: "hold", date, why: hold.why };
  const first = task.after
    .flatMap((link) => {
      const before = reading.task(job.id, link.task);
      const planned = reading.planned(job.id, link.task);
      if (before === undefined || planned === undefined || before.status === "done") return [];
      return [{ before, end: civilDateAt(planned.end - 1, reading.zone) }];
    })
    .filter(({ end }) => end >= date)
    .sort((a, b) => (a.end < b.end ? 1 : -1))[0];
  if (first !== undefined) {
    return { kind: "comes-after", title: taskTitle(first.before.title, first.before.area), date: first.end };
  }
  const other = reading
    .dayOf(crewId, date)
    .find((block) => block.kind === "work" && block.job !== null && block.job.id !== job.id)?.job;
  return crew !== undefined && other != null
    ? { kind: "elsewhere", crewName: crew.name, date, job: other }
    : undefined;
}
