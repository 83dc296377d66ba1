/** Whether a schedule keeps what was wished for: what the search must not give up. */
import type { Plan } from "../../domain/plan-format.js";
import type { Compiled } from "../compile/compile.js";
import type { Timeline } from "../core/timeline.js";
import type { CompanyEdit } from "./company-edits.js";
import { taskKey } from "./planned-work.js";
import { findPresentHouse, listOwn } from "./wish-keep-crew.js";
import type { KeepCrew, PinDay, Wish } from "./wishes.js";

export type IsKept = (timeline: Timeline) => boolean;

/** The check of a wish. `edits` are those that it made; `before` the order to hold when it was made. */
export function makeKeptCheck(
  compiled: Compiled,
  wish: Wish,
  edits: readonly CompanyEdit[],
  before: Plan,
): IsKept {
  const indexOf = new Map(
    compiled.open.map(({ job, task, index }) => [taskKey(job.id, task.id), index] as const),
  );
  const named = edits.flatMap((edit) =>
    edit.kind === "name-crew"
      ? [
          {
            task: indexOf.get(taskKey(edit.job, edit.task)) ?? -1,
            crew: compiled.company.crews.findIndex(({ id }) => id === edit.crew),
          },
        ]
      : [],
  );
  const isByNamed: IsKept = (timeline) => named.every(({ task, crew }) => timeline.crewOf[task] === crew);
  switch (wish.kind) {
    case "pin-crew":
    case "swap-crews":
      return isByNamed;
    case "pin-day":
      return startsOn(compiled, wish, indexOf.get(taskKey(wish.job, wish.task)) ?? -1);
    case "keep-crew":
      return staysPut(compiled, wish, before);
  }
}

function startsOn({ open, daysOfJob, problem }: Compiled, { date }: PinDay, task: number): IsKept {
  const days = daysOfJob[open[task]?.jobIndex ?? -1];
  return ({ placed, startOf }) =>
    placed[problem.activityOf[task] ?? -1] === 1 && days?.date(days.dayOf(startOf[task] ?? 0)) === date;
}

/** Nothing at another house is begun before the last of the crew's tasks at its present one. */
function staysPut({ company, open, problem }: Compiled, { crew: id }: KeepCrew, before: Plan): IsKept {
  const crew = company.crews.findIndex((candidate) => candidate.id === id);
  const house = findPresentHouse(company, before, id);
  const site = company.jobs.findIndex((job) => job.id === house?.id);
  const own = new Set(listOwn(company, before, id).map((entry) => taskKey(entry.job, entry.task)));
  const here = open
    .filter(({ jobIndex, job, task }) => jobIndex === site && own.has(taskKey(job.id, task.id)))
    .map(({ index }) => index);
  return (timeline) => {
    const starts = here
      .filter(
        (task) => timeline.placed[problem.activityOf[task] ?? -1] === 1 && timeline.crewOf[task] === crew,
      )
      .map((task) => timeline.startOf[task] ?? 0);
    if (starts.length < here.length) return false;
    const last = Math.max(...starts);
    return (timeline.visits[crew] ?? []).every(
      (visit) => visit.site === site || (visit.items[0]?.start ?? last) >= last,
    );
  };
}
