/** One task by itself: the fields that fit its kind (work or wait) and its status, and times in order. */
import { isGiven, isReadable, recordOf, type TaskDraft } from "./draft.js";
import type { Place, Report } from "./fault.js";
import { parseInstant } from "./time.js";

/** `zone`: the house's, or undefined where it cannot be read. */
export function checkTask(at: Place, task: TaskDraft, zone: string | undefined, report: Report): void {
  if (task.trade === null) checkWait(at, task, report);
  else if (isReadable(task.trade)) checkWork(at, task, report);
  checkStatus(at, task, report);
  if (zone !== undefined) checkTimes(at, task, zone, report);
}

function checkWait(at: Place, task: TaskDraft, report: Report): void {
  const refuse = (field: keyof TaskDraft, advice: string): void =>
    report(
      [...at, field],
      `A wait (trade null) has no crew at work, so it cannot have "${field}". ${advice}`,
    );
  if (task.waitBusinessDays === undefined) {
    report(
      [...at, "waitBusinessDays"],
      "This is missing: a wait (trade null) must say how many business days it takes (0 or more).",
    );
  }
  if (isGiven(task.laborHours)) refuse("laborHours", "Take it out, or name a trade.");
  if (isGiven(task.units) && task.units > 1) refuse("units", "Take it out, or name a trade.");
  if (task.opens === true) refuse("opens", "Take it out, or name a trade.");
  if (task.closes === true) refuse("closes", "Take it out, or name a trade.");
  if (recordOf(task.equipment).length > 0) refuse("equipment", "Take it out, or name a trade.");
}

function checkWork(at: Place, task: TaskDraft, report: Report): void {
  if (task.laborHours === undefined) {
    report(
      [...at, "laborHours"],
      "This is missing: a task with a trade must say how many labor-hours it takes (0 or more).",
    );
  }
  if (isGiven(task.waitBusinessDays)) {
    report(
      [...at, "waitBusinessDays"],
      "Only a wait (trade null) has business days. Take them out, or write null as the trade.",
    );
  }
  if (task.status === "under-way" && task.doneBy === null && task.crew === null) {
    report(
      [...at, "doneBy"],
      "The task is under way, but neither doneBy nor crew says with which crew. Name the crew in doneBy.",
    );
  }
}

function checkStatus(at: Place, task: TaskDraft, report: Report): void {
  if (isGiven(task.finishedAt) && isReadable(task.status) && task.status !== "done") {
    report(
      [...at, "finishedAt"],
      `The task has a finish but its status is "${task.status}". Write "done" as its status, or null here.`,
    );
  }
  if (isGiven(task.startedAt) && task.status === "to-do") {
    report(
      [...at, "startedAt"],
      'The task has a start but its status is "to-do". Write "under-way" as its status, or null here.',
    );
  }
}

function checkTimes(at: Place, task: TaskDraft, zone: string, report: Report): void {
  if (!isGiven(task.startedAt) || !isGiven(task.finishedAt)) return;
  const [start, finish] = [parseInstant(task.startedAt, zone), parseInstant(task.finishedAt, zone)];
  if (start === undefined || finish === undefined || finish >= start) return;
  report(
    [...at, "finishedAt"],
    `The task is finished at ${task.finishedAt}, before its start at ${task.startedAt}. Correct one of the two.`,
  );
}
