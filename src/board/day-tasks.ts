/** The tasks that a crew can speak of on a day: those of its sheet in their order, then what else it has under way. */
import type { Crew, Job, Task } from "../domain/company-schema.js";
import { addDays, type CivilDate } from "../domain/time.js";
import type { Reading } from "./reading.js";

export interface DayTask {
  readonly job: Job;
  readonly task: Task;
}

/** Each once; the place in the list, counted from 1, is the number by which the sheet links to it. */
export function listDayTasks(reading: Reading, crew: Crew, date: CivilDate): readonly DayTask[] {
  const found: DayTask[] = [];
  const add = (job: Job, task: Task): void => {
    if (!found.some((known) => known.job === job && known.task === task)) found.push({ job, task });
  };
  for (const { kind, job, task } of reading.dayOf(crew.id, date)) {
    if (kind === "work" && job !== null && task !== null) add(job, task);
  }
  for (const job of reading.company.jobs) {
    for (const task of job.tasks) {
      const isTheirs = task.status === "under-way" && (task.doneBy ?? task.crew) === crew.id;
      if (isTheirs && task.trade !== null) add(job, task);
    }
  }
  return found;
}

/** As many days as the sheet tells of. */
const DAYS_AHEAD = 5;

/** What a crew can report on: where it has nothing today, its next day's work, which it may have begun already. */
export function listReportTasks(
  reading: Reading,
  crew: Crew,
  date: CivilDate,
  today: CivilDate,
): readonly DayTask[] {
  const own = listDayTasks(reading, crew, date);
  if (own.length > 0 || date !== today) return own;
  const ahead = Array.from({ length: DAYS_AHEAD }, (_, days) => addDays(today, days + 1));
  return ahead.map((day) => listDayTasks(reading, crew, day)).find((tasks) => tasks.length > 0) ?? [];
}

/** The day that a crew most likely speaks of while it reads the sheet of a day: today, where that has work. */
export function findReportDay(reading: Reading, crew: Crew, date: CivilDate, today: CivilDate): CivilDate {
  return date > today && listDayTasks(reading, crew, today).length > 0 ? today : date;
}
