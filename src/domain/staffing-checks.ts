/**
 * Whether the company can do its open work at all: a crew for each trade, crews strong enough, equipment enough.
 * Whether a named crew can do its task is the planner's to say (it lists the task as impossible).
 */
import { entriesOf, isGiven, isReadable, type CompanyDraft, type TaskDraft } from "./draft.js";
import { quotedList, type Place, type Report } from "./fault.js";

interface OpenTask {
  readonly at: Place;
  readonly task: TaskDraft;
}

export function checkStaffing(file: CompanyDraft, report: Report): void {
  const open = listOpenTasks(file);
  checkCrews(file, open, report);
  checkEquipment(file, open, report);
}

/** Tasks that somebody still has to do; one of 0 hours needs no crew. */
function listOpenTasks(file: CompanyDraft): OpenTask[] {
  return entriesOf(file.jobs).flatMap(([index, job]) =>
    entriesOf(job.tasks)
      .map(([nth, task]) => ({ at: ["jobs", index, "tasks", nth], task }))
      .filter(({ task }) => isReadable(task.status) && task.status !== "done" && task.laborHours !== 0),
  );
}

function checkCrews(file: CompanyDraft, open: readonly OpenTask[], report: Report): void {
  if (!isReadable(file.crews) || !isReadable(file.trades)) return;
  const crews = file.crews.filter(isReadable);
  if (crews.length < file.crews.length || !crews.every((crew) => isReadable(crew.trades))) return;
  const known = new Set(entriesOf(file.trades).map(([, trade]) => trade.id));
  const unstaffed = new Set<string>();
  for (const { at, task } of open) {
    const { trade, minCrew } = task;
    if (!isGiven(trade) || !known.has(trade)) continue;
    const able = crews.filter((crew) => isReadable(crew.trades) && Object.hasOwn(crew.trades, trade));
    if (able.length === 0) {
      // One sentence for a trade, however many tasks wait for it.
      if (!unstaffed.has(trade)) {
        const count = open.filter((other) => other.task.trade === trade).length;
        const waiting = count === 1 ? "this open task needs it" : `${count} open tasks need it`;
        report(
          [...at, "trade"],
          `No crew has the trade "${trade}", and ${waiting}. Give the trade to a crew.`,
        );
      }
      unstaffed.add(trade);
      continue;
    }
    if (!isReadable(minCrew) || !able.every((crew) => isReadable(crew.size))) continue;
    const strongest = Math.max(...able.map((crew) => (isReadable(crew.size) ? crew.size : 0)));
    if (strongest >= minCrew) continue;
    report(
      [...at, "minCrew"],
      `The task needs a crew of ${minCrew}, but no crew with the trade "${trade}" has more than ${strongest}. ` +
        `Write at most ${strongest}, or make a crew larger.`,
    );
  }
}

function checkEquipment(file: CompanyDraft, open: readonly OpenTask[], report: Report): void {
  const counts = new Map(entriesOf(file.equipment).map(([, item]) => [item.id, item.count]));
  for (const { at, task } of open) {
    if (!isReadable(task.equipment)) continue;
    for (const [id, wanted] of Object.entries(task.equipment)) {
      const count = counts.get(id);
      if (typeof count !== "number" || typeof wanted !== "number" || wanted <= count) continue;
      report(
        [...at, "equipment", id],
        `The task needs ${wanted} of ${quotedList([id], "or")}, but the company has ${count}. Write at most ${count}, or raise its count.`,
      );
    }
  }
}
