/** A schedule as a way out: what it does by permission, what it changes, its figures, and the plan when it is asked for. */
import type { Company } from "../../domain/company-schema.js";
import type { Plan } from "../../domain/plan-format.js";
import { findBindings } from "../because.js";
import { listPromises } from "../compile/promises.js";
import { explainUnplaced } from "../impossible.js";
import { CostBook } from "../report/cost.js";
import { buildPlan } from "../report/plan-report.js";
import { listDayUses } from "./longer-days.js";
import { findDifference } from "./plan-difference.js";
import { collectWork, compareTexts, taskKey, type PlannedWork, type WorkSpan } from "./planned-work.js";
import type { Recovery, Solved } from "./recovery.js";
import {
  toFigures,
  type Permissions,
  type PermissionUse,
  type WayKind,
  type WayOut,
  type WaysOutOptions,
} from "./way-out.js";

/** `isHeld`: it is hold the order, whatever the rules have made of that. */
export function toWay({ asOf, seed, permissions }: WaysOutOptions, solved: Solved, isHeld: boolean): WayOut {
  const { compiled, edits, recovery } = solved.variant;
  const work = workOf(solved);
  const leftOut = listLeftOut(solved);
  const difference = findDifference(compiled.company, recovery.reference, work, asOf, leftOut);
  const uses = [...listLends(recovery, work), ...listDayUses(solved)];
  const kinds: readonly WayKind[] = isHeld ? ["hold"] : listKinds(recovery, permissions, work, uses);
  const hours = (name: "minutes" | "usedMinutes"): number =>
    uses.reduce((sum, use) => sum + (use.kind === "lend" ? 0 : use[name]), 0) / 60;
  let plan: Plan | undefined;
  return {
    key: [...(recovery.wished.checks.length > 0 ? ["wish"] : []), ...kinds].join("+"),
    kinds,
    company: compiled.company,
    edits: [...recovery.wished.edits, ...edits],
    permissionsUsed: uses,
    crewHoursGained: hours("minutes"),
    crewHoursUsed: hours("usedMinutes"),
    difference,
    figures: toFigures(solved.costed.figures, leftOut.size, difference),
    explain: () => (plan ??= explain(solved, seed)),
    explainFor: (published) => explain(solved, seed, published),
  };
}

/** The tasks that the plan cannot hold, by `taskKey`. */
export function listLeftOut({ variant, problem, unplaced }: Solved): ReadonlySet<string> {
  const { impossible, open } = variant.compiled;
  const tasks = unplaced.flatMap((index) => problem.activities[index]?.tasks ?? []);
  return new Set(
    [...impossible, ...tasks.flatMap((task) => open[task] ?? [])].map(({ job, task }) =>
      taskKey(job.id, task.id),
    ),
  );
}

/** Tasks that another crew works than in the standing plan, as in the company file. */
function listLends(recovery: Recovery, work: PlannedWork): PermissionUse[] {
  return recovery.company.jobs.flatMap((job) =>
    job.tasks.flatMap(({ id }): PermissionUse[] => {
      const key = taskKey(job.id, id);
      const from = recovery.standingWork.get(key)?.days[0]?.crew;
      const to = work.get(key)?.days[0]?.crew;
      if (from === undefined || to === undefined || from === to) return [];
      return [{ kind: "lend", job: job.id, task: id, from, to }];
    }),
  );
}

function listKinds(
  recovery: Recovery,
  { resequence, lend }: Permissions,
  work: PlannedWork,
  uses: readonly PermissionUse[],
): readonly WayKind[] {
  const used = new Set(uses.map(({ kind }) => kind));
  const kinds: WayKind[] = [];
  if (resequence && !isInOrder(recovery.standingWork, work)) kinds.push("resequence");
  if (lend && used.has("lend")) kinds.push("lend");
  if (used.has("stretch")) kinds.push("stretch");
  if (used.has("saturday")) kinds.push("saturday");
  return kinds.length > 0 ? kinds : ["hold"];
}

/** Whether the tasks that stay with their crew are begun in the order in which they were. */
function isInOrder(before: PlannedWork, after: PlannedWork): boolean {
  const lines = new Map<string, { key: string; before: number; after: number }[]>();
  for (const [key, work] of after) {
    const one = before.get(key);
    const crew = work.days[0]?.crew ?? "";
    if (!one || one.days[0]?.crew !== crew) continue;
    const line = lines.get(crew) ?? [];
    lines.set(crew, line);
    line.push({ key, before: one.start, after: work.start });
  }
  for (const line of lines.values()) {
    line.sort((a, b) => a.before - b.before || a.after - b.after || compareTexts(a.key, b.key));
    if (line.some(({ after: start }, place) => start < (line[place - 1]?.after ?? -Infinity))) return false;
  }
  return true;
}

/** The work of a schedule, as `readWork` would read it from the plan's blocks. */
export function workOf(solved: Solved): PlannedWork {
  return collectWork(listSpans(solved));
}

/** Each stretch of the work of a schedule. */
export function listSpans({ variant, timeline }: Solved): readonly WorkSpan[] {
  const { open, company, days } = variant.compiled;
  const spans: WorkSpan[] = [];
  for (const { crew, items } of timeline.visits.flat()) {
    for (const { task, segments } of items) {
      const facts = open[task];
      if (!facts) continue;
      for (let at = 0; at + 1 < segments.length; at += 2) {
        const start = segments[at] ?? 0;
        const end = segments[at + 1] ?? 0;
        if (end <= start) continue;
        spans.push({
          job: facts.job.id,
          task: facts.task.id,
          crew: company.crews[crew]?.id ?? "",
          date: days.date(days.dayOf(start)),
          start,
          end,
        });
      }
    }
  }
  return spans;
}

/**
 * The plan of a schedule, with a reason for every start. `company`: the same one with other work published, against which
 * the plan is then read; of its blocks nothing changes.
 */
export function explain(solved: Solved, seed: number, company?: Company): Plan {
  const { variant, problem, timeline, choices, unplaced } = solved;
  const compiled = {
    ...variant.compiled,
    problem,
    ...(company && { company, promises: listPromises(company, problem.start) }),
  };
  const costed = company ? new CostBook(compiled).costOf(timeline, unplaced) : solved.costed;
  return buildPlan({
    compiled,
    timeline,
    costed,
    bindings: findBindings(timeline, choices),
    unplacedWhy: explainUnplaced(variant.compiled, timeline, unplaced),
    seed,
    iterations: 1,
  });
}
