/**
 * Ways out of a slip: complete plans of a company to which something has happened, side by side. Hold the order is the
 * yardstick; the others make use of what the dispatcher allows. Pure: the same company, standing plan, permissions and
 * seed give the same ways.
 */
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import { addDays, civilDateAt, weekdayOf, type CivilDate, type Minute } from "../domain/time.js";
import { findBindings } from "./because.js";
import { listPromises } from "./compile/promises.js";
import { explainUnplaced } from "./impossible.js";
import { CostBook } from "./report/cost.js";
import { buildPlan } from "./report/plan-report.js";
import { holdOrder } from "./ways-out/hold-order.js";
import {
  holdWithLongerDays,
  keepUsed,
  listDayUses,
  listExtraDays,
  listStretchDays,
} from "./ways-out/longer-days.js";
import { collectWork, taskKey, type PlannedWork, type WorkSpan } from "./ways-out/planned-work.js";
import { findDifference } from "./ways-out/plan-difference.js";
import { isBetter, Recovery, type Solved } from "./ways-out/recovery.js";
import { reorder } from "./ways-out/reorder.js";
import {
  toFigures,
  withoutDominated,
  type Permissions,
  type PermissionUse,
  type WayKind,
  type WayOut,
  type WaysOutOptions,
} from "./ways-out/way-out.js";

/** The dates from `asOf` on, as many as asked for, in the company's zone. */
export function listDatesAhead(company: Company, asOf: Minute, days: number): readonly CivilDate[] {
  const today = civilDateAt(asOf, company.company.timeZone);
  return Array.from({ length: days }, (_, day) => addDays(today, day));
}

/** The next Saturdays, `asOf`'s own date included. */
export function listSaturdaysAhead(company: Company, asOf: Minute, count: number): readonly CivilDate[] {
  return listDatesAhead(company, asOf, count * 7).filter((date) => weekdayOf(date) === "sat");
}

/**
 * The ways out that are worth showing, hold the order first. `company` is the company with the slip in it. Ways that are
 * in no figure better than another are left out, but never the first.
 */
export function listWaysOut(company: Company, options: WaysOutOptions): readonly WayOut[] {
  return new Ways(company, options).list();
}

/** Schedules that all ways together may take to decode, in activities. */
const ACTIVITIES_DECODED = 12_000;
const MOST_SCHEDULES = 120;
const LEAST_SCHEDULES = 5;

class Ways {
  private readonly recovery: Recovery;
  private readonly schedules: number;
  private readonly permissions: Permissions;

  constructor(
    company: Company,
    private readonly options: WaysOutOptions,
  ) {
    this.recovery = new Recovery(company, options.asOf, options.standing);
    this.permissions = options.permissions;
    const { length } = this.recovery.plain.compiled.problem.activities;
    this.schedules =
      options.iterations ??
      Math.min(
        MOST_SCHEDULES,
        Math.max(LEAST_SCHEDULES, Math.floor(ACTIVITIES_DECODED / Math.max(1, length))),
      );
  }

  list(): readonly WayOut[] {
    const { recovery, permissions } = this;
    const held = holdOrder(recovery, recovery.plain);
    const stretchDays = listStretchDays(recovery, permissions);
    const extraDays = listExtraDays(recovery, permissions);
    const stretched = stretchDays.length > 0 ? holdWithLongerDays(recovery, held, stretchDays) : held;
    const saturday = extraDays.length > 0 ? holdWithLongerDays(recovery, held, extraDays) : held;
    const resequenced = permissions.resequence ? this.reorder(held, true, false) : held;
    const lent = permissions.lend ? this.reorder(held, false, true) : held;
    const both =
      permissions.resequence && permissions.lend
        ? this.reorder(isBetter(lent, resequenced) ? lent : resequenced, true, true)
        : held;
    const longer =
      stretched !== held && saturday !== held
        ? holdWithLongerDays(recovery, held, [...stretchDays, ...extraDays])
        : isBetter(saturday, stretched)
          ? saturday
          : stretched;
    const all =
      longer !== held && (permissions.resequence || permissions.lend)
        ? this.reorder(longer, permissions.resequence, permissions.lend)
        : held;
    const ways = [held, resequenced, lent, stretched, saturday, both, longer, all]
      .filter((solved, place, solveds) => solveds.indexOf(solved) === place)
      .map((solved) => this.toWay(solved));
    ways.sort((a, b) => a.kinds.length - b.kinds.length);
    const unique = ways.filter((way, place) => ways.findIndex(({ key }) => key === way.key) === place);
    return withoutDominated([...unique].sort((a, b) => Number(b.key === "hold") - Number(a.key === "hold")));
  }

  private reorder(from: Solved, resequence: boolean, lend: boolean): Solved {
    const { seed } = this.options;
    const options = { resequence, lend, seed, schedules: this.schedules };
    const found = reorder(this.recovery, from.variant, from, options);
    return keepUsed(found, (used) => reorder(this.recovery, this.recovery.extend(used), found, options));
  }

  private toWay(solved: Solved): WayOut {
    const { recovery, options } = this;
    const work = workOf(solved);
    const { compiled } = solved.variant;
    const leftOut =
      compiled.impossible.length +
      solved.unplaced.reduce((sum, index) => sum + (solved.problem.activities[index]?.tasks.length ?? 0), 0);
    const difference = findDifference(compiled.company, recovery.reference, work, options.asOf);
    const lends = this.listLends(work);
    const uses = [...lends, ...listDayUses(solved)];
    const kinds = this.kindsOf(work, uses);
    const hours = (name: "minutes" | "usedMinutes"): number =>
      uses.reduce((sum, use) => sum + (use.kind === "lend" ? 0 : use[name]), 0) / 60;
    let plan: Plan | undefined;
    return {
      key: kinds.join("+"),
      kinds,
      company: compiled.company,
      edits: solved.variant.edits,
      permissionsUsed: uses,
      crewHoursGained: hours("minutes"),
      crewHoursUsed: hours("usedMinutes"),
      difference,
      figures: toFigures(solved.costed.figures, leftOut, difference),
      explain: () => (plan ??= explain(solved, options.seed)),
      explainFor: (published) => explain(solved, options.seed, published),
    };
  }

  private listLends(work: PlannedWork): PermissionUse[] {
    return [...work.values()].flatMap(({ job, task, days }): PermissionUse[] => {
      const from = this.recovery.standingWork.get(taskKey(job, task))?.days[0]?.crew;
      const to = days[0]?.crew;
      return from === undefined || to === undefined || from === to
        ? []
        : [{ kind: "lend", job, task, from, to }];
    });
  }

  private kindsOf(work: PlannedWork, uses: readonly PermissionUse[]): readonly WayKind[] {
    const used = new Set(uses.map(({ kind }) => kind));
    const kinds: WayKind[] = [];
    if (this.permissions.resequence && !isInOrder(this.recovery.standingWork, work)) kinds.push("resequence");
    if (this.permissions.lend && used.has("lend")) kinds.push("lend");
    if (used.has("stretch")) kinds.push("stretch");
    if (used.has("saturday")) kinds.push("saturday");
    return kinds.length > 0 ? kinds : ["hold"];
  }
}

/** Whether the tasks that stay with their crew are begun in the order in which they were. */
function isInOrder(before: PlannedWork, after: PlannedWork): boolean {
  const lines = new Map<string, { before: number; after: number }[]>();
  for (const [key, work] of after) {
    const one = before.get(key);
    const crew = work.days[0]?.crew ?? "";
    if (!one || one.days[0]?.crew !== crew) continue;
    const line = lines.get(crew);
    const starts = { before: one.start, after: work.start };
    if (line) line.push(starts);
    else lines.set(crew, [starts]);
  }
  for (const line of lines.values()) {
    line.sort((a, b) => a.before - b.before || a.after - b.after);
    if (line.some(({ after: start }, place) => start < (line[place - 1]?.after ?? -Infinity))) return false;
  }
  return true;
}

/** All work of a schedule. */
export function workOf({ variant, timeline }: Solved): PlannedWork {
  const { open, company, days } = variant.compiled;
  const spans: WorkSpan[] = [];
  for (const visits of timeline.visits) {
    for (const { crew, items } of visits) {
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
  }
  return collectWork(spans);
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
