/**
 * A binding in the plan's words: which task, which delivery, which hold, until when.
 */
import type { Task } from "../../domain/company-schema.js";
import type { PlanTask } from "../../domain/plan-format.js";
import type { Binding } from "../because.js";
import type { OpenTask } from "../compile/activities.js";
import type { Compiled } from "../compile/compile.js";
import type { ZoneDays } from "../compile/zone-days.js";
import type { Timeline } from "../core/timeline.js";
import { becauseText, whenText } from "./because-text.js";

const UNTOLD = { en: "", es: "" };

export function describeBinding(
  compiled: Compiled,
  timeline: Timeline,
  open: OpenTask,
  binding: Binding,
  days: ZoneDays,
): PlanTask["because"] {
  const { kind, also, by, until } = binding;
  const other =
    compiled.open[by] ?? (kind === "after-task" || kind === "curing" ? lastDoneBefore(open) : undefined);
  const untold = !Number.isFinite(until) || kind === "start-of-plan";
  const facts = {
    crew: compiled.company.crews[timeline.crewOf[open.index] ?? -1]?.name ?? "",
    house: open.job.name,
    byTitle: other?.task.title ?? "",
    byHouse: other?.job.name ?? "",
    what: whatHolds(compiled, open, binding, days),
    // A sentence says one of them: the other is never written.
    get until() {
      return untold ? UNTOLD : whenText(days, until, "until");
    },
    get from() {
      return untold ? UNTOLD : whenText(days, until, "from");
    },
  };
  return {
    kind,
    text: becauseText(kind, facts),
    by: other ? { job: other.job.id, task: other.task.id } : null,
    until: untold ? null : days.iso(until),
    ...(also.length > 0 ? { also: [...also] } : {}),
  };
}

/** The done task before this one that was finished last (its cure may still run). */
function lastDoneBefore({ job, task }: OpenTask): Pick<OpenTask, "job" | "task"> | undefined {
  const done = task.after
    .flatMap(({ task: id }): Task[] =>
      job.tasks.filter((other) => other.id === id && other.status === "done"),
    )
    .sort((a, b) => (a.finishedAt ?? "").localeCompare(b.finishedAt ?? ""));
  const last = done.at(-1);
  return last && { job, task: last };
}

function whatHolds(
  { company }: Compiled,
  { job, task }: OpenTask,
  { kind, until }: Binding,
  days: ZoneDays,
): string {
  if (kind === "delivery") {
    const late = job.deliveries.filter((delivery) => task.needs.includes(delivery.id) && !delivery.received);
    return late.sort((a, b) => a.expected.localeCompare(b.expected)).at(-1)?.what ?? "";
  }
  if (kind === "equipment") {
    return company.equipment
      .filter((item) => task.equipment[item.id] !== undefined)
      .map((item) => item.name)
      .join(", ");
  }
  if (kind !== "hold") return "";
  const ending = company.holds.find(
    (hold) => (hold.jobs === "all" || hold.jobs.includes(job.id)) && days.parse(hold.to) === until,
  );
  return ending?.why ?? "";
}
