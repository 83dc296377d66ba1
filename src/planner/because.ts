/**
 * Which constraint binds: for every task the one that, lifted alone, lets it start earlier while crews, their order and
 * all else stay as they are. The plan is decoded again, and each task is tried with each constraint lifted just
 * before it is placed. Where only several together bind, the last to be lifted in the order of the rules is named.
 */
import { becauseKinds, type BecauseKind } from "../domain/plan-format.js";
import { decode, type Choice } from "./core/construct.js";
import { findClash } from "./core/equipment.js";
import type { Placer } from "./core/placer.js";
import { LIFT, type Activity, type Problem } from "./core/problem.js";
import type { Placement, Timeline } from "./core/timeline.js";
import { Windows } from "./core/windows.js";
import { LiftProofs } from "./lift-proofs.js";

export interface Binding {
  readonly kind: BecauseKind;
  readonly also: readonly BecauseKind[];
  /** The task that is waited for, or −1. */
  readonly by: number;
  /** When the constraint lets go. */
  readonly until: number;
  /** Where a published day binds: what else would. */
  readonly besidePublished: Binding | null;
}

/** What lifts each kind; in the order of the rules of the planning model. A kind without its lift does not compile. */
const LIFT_OF = {
  "crew-busy": LIFT.crewBusy,
  "crew-off": LIFT.crewOff,
  access: LIFT.access,
  "no-light": LIFT.noLight,
  hold: LIFT.hold,
  "after-task": LIFT.afterTask,
  curing: LIFT.curing,
  "not-before": LIFT.notBefore,
  delivery: LIFT.delivery,
  wait: LIFT.wait,
  "close-by-dark": LIFT.closeByDark,
  equipment: LIFT.equipment,
  published: LIFT.published,
} satisfies Record<Exclude<BecauseKind, "start-of-plan">, number>;
const IN_RULE_ORDER = becauseKinds.flatMap((kind) =>
  kind === "start-of-plan" ? [] : [[kind, LIFT_OF[kind]] as const],
);

/** For each task (by index) what binds it; undefined for tasks that are not in the plan. */
export function findBindings(
  timeline: Timeline,
  choices: readonly Choice[],
): readonly (Binding | undefined)[] {
  const bindings: (Binding | undefined)[] = timeline.problem.tasks.map(() => undefined);
  const windows = new Windows(timeline.problem);
  decode(timeline.problem, choices, (placer, choice, placement) => {
    const found = new Finder(placer, choice, placement, windows).list();
    for (const [task, binding] of found) bindings[task] = binding;
  });
  return bindings;
}

/** What an activity has nothing of need not be lifted: the trial would be the same. */
function possibleLifts(problem: Problem, activity: Activity): number {
  let lifts = activity.kind === "wait" ? 0 : LIFT.crewBusy | LIFT.crewOff | LIFT.access;
  if (activity.chain) lifts |= LIFT.closeByDark;
  for (const index of activity.tasks) {
    const task = problem.tasks[index];
    if (!task) continue;
    for (const edge of task.after) lifts |= edge.lift | (edge.lagMinutes > 0 ? LIFT.curing : 0);
    for (const bound of task.bounds) lifts |= bound.lift;
    if (task.equipment.length > 0) lifts |= LIFT.equipment;
    if (problem.outdoor[task.trade]) lifts |= LIFT.noLight;
    const holds =
      task.trade < 0 ? 0 : (problem.holds[task.site * problem.tradeCount + task.trade]?.length ?? 0);
    if (holds > 0) lifts |= LIFT.hold;
  }
  return lifts;
}

function startOfPlan(until: number): Binding {
  return { kind: "start-of-plan", also: [], by: -1, until, besidePublished: null };
}

class Finder {
  private readonly activity: Activity;
  /** The kinds that can hold this activity back at all. */
  private readonly possible: typeof IN_RULE_ORDER;

  constructor(
    private readonly placer: Placer,
    private readonly choice: Choice,
    private readonly actual: Placement,
    private readonly windows: Windows,
  ) {
    const activity = placer.problem.activities[choice.activity];
    if (!activity) throw new RangeError(`no activity ${choice.activity}`);
    this.activity = activity;
    const mask = possibleLifts(placer.problem, activity);
    this.possible = IN_RULE_ORDER.filter(([, lift]) => mask & lift);
  }

  list(): readonly (readonly [number, Binding])[] {
    const { actual, activity } = this;
    const proofs = new LiftProofs(this.placer, this.choice.activity, activity, actual, this.windows);
    const trials = new Map<number, Placement | null>();
    const startWith = (lifted: number, place: number): number => {
      let trial = trials.get(lifted);
      if (trial === undefined) {
        trial = proofs.changesNothing(lifted) ? actual : this.attempt(lifted);
        trials.set(lifted, trial);
      }
      return trial?.starts[place] ?? Infinity;
    };
    return activity.tasks.map(
      (task, place) => [task, this.bind(task, place, actual, startWith, proofs)] as const,
    );
  }

  private attempt(lifted: number): Placement | null {
    return this.placer.attempt(this.choice.activity, this.choice.staffing, lifted);
  }

  private bind(
    task: number,
    place: number,
    actual: Placement,
    startWith: (lifted: number, place: number) => number,
    proofs: LiftProofs,
  ): Binding {
    const start = actual.starts[place] ?? 0;
    const { problem } = this.placer;
    if (start <= problem.start) return startOfPlan(problem.start);
    const inner = this.innerPredecessor(place, actual);
    // Inside a chain, what delays the opener delays all: only what this task alone waits for counts.
    const earlier = (lifted: number): boolean => {
      if (inner >= 0) return startWith(lifted, place) < start && startWith(lifted, 0) === actual.starts[0];
      return !(place === 0 && proofs.startsNoEarlier(lifted)) && startWith(lifted, place) < start;
    };
    const never = inner >= 0 && proofs.followsAtOnce(place);
    const single = never ? [] : this.possible.filter(([, lift]) => earlier(lift));
    const named = single.at(-1);
    if (named)
      return this.describe(
        named[0],
        single.slice(0, -1).map(([kind]) => kind),
        task,
        place,
        actual,
      );
    if (inner >= 0) {
      const by = this.activity.tasks[inner] ?? -1;
      return { kind: "after-task", also: [], by, until: start, besidePublished: null };
    }
    const together = this.bindTogether(earlier);
    const last = together.at(-1);
    if (!last) return startOfPlan(problem.start);
    return this.describe(last, together.slice(0, -1), task, place, actual);
  }

  /** The smallest set, in rule order, that must be lifted together. */
  private bindTogether(earlier: (lifted: number) => boolean): readonly BecauseKind[] {
    let lifted = 0;
    const taken: (readonly [BecauseKind, number])[] = [];
    for (const one of this.possible) {
      lifted |= one[1];
      taken.push(one);
      if (earlier(lifted)) break;
    }
    if (!earlier(lifted)) return [];
    return taken
      .filter(([, lift]) => {
        const idle = earlier(lifted & ~lift);
        if (idle) lifted &= ~lift;
        return !idle;
      })
      .map(([kind]) => kind);
  }

  /** The place of the chain's task that this one follows and that ends last before it starts, or −1. */
  private innerPredecessor(place: number, actual: Placement): number {
    let found = -1;
    for (const edge of this.activity.chain?.inner ?? []) {
      if (edge.to !== place) continue;
      if (found < 0 || (actual.starts[edge.from] ?? 0) >= (actual.starts[found] ?? 0)) found = edge.from;
    }
    return found;
  }

  private describe(
    kind: BecauseKind,
    also: readonly BecauseKind[],
    task: number,
    place: number,
    actual: Placement,
  ): Binding {
    const start = actual.starts[place] ?? 0;
    const { by, until } = this.cause(kind, task, actual.crews[place] ?? -1, start);
    const next = kind === "published" ? also.at(-1) : undefined;
    return {
      kind,
      // A lag that binds is named for itself; that its edge could go as a whole is no second reason.
      also: kind === "curing" ? also.filter((other) => other !== "after-task" && other !== "wait") : also,
      by,
      until: Math.min(until, start),
      besidePublished: next ? this.describe(next, also.slice(0, -1), task, place, actual) : null,
    };
  }

  private cause(
    kind: BecauseKind,
    task: number,
    crew: number,
    start: number,
  ): { readonly by: number; readonly until: number } {
    const { problem, timeline } = this.placer;
    switch (kind) {
      case "crew-busy": {
        const visit = timeline.lastVisit(crew);
        const item = visit?.items.at(-1);
        return { by: item?.task ?? -1, until: item?.end ?? start };
      }
      case "after-task":
        return this.latestEdge(task, LIFT.afterTask);
      case "curing":
        return this.latestEdge(task, LIFT.curing);
      case "wait":
        return this.latestEdge(task, LIFT.wait);
      case "not-before":
        return { by: -1, until: this.latestBound(task, LIFT.notBefore) };
      case "delivery":
        return { by: -1, until: this.latestBound(task, LIFT.delivery) };
      case "published":
        return { by: -1, until: this.latestBound(task, LIFT.published) };
      case "hold":
        return { by: -1, until: this.lastHoldEnd(task, start) };
      case "equipment": {
        const free = this.attempt(LIFT.equipment);
        const held = free
          ? this.activity.tasks.map((own, place) => ({
              task: own,
              start: free.starts[place] ?? 0,
              end: free.ends[place] ?? 0,
            }))
          : [];
        const clash = findClash(problem, timeline, held);
        return { by: clash?.by ?? -1, until: clash?.until ?? start };
      }
      case "crew-off":
        return { by: -1, until: problem.shift.start(crew, problem.dayStart.dayOf(start)) };
      case "access":
        return { by: -1, until: this.tableStart(problem.access, start) };
      case "no-light":
        return { by: -1, until: this.tableStart(problem.light, start) };
      case "close-by-dark":
      case "start-of-plan":
        return { by: -1, until: start };
    }
  }

  private tableStart(table: Placer["problem"]["access"], start: number): number {
    const { site } = this.activity;
    return table.start(site, this.placer.problem.siteDay(site, start));
  }

  /** The edge of a kind that lets go last; for curing, of those with a lag. */
  private latestEdge(task: number, lift: number): { readonly by: number; readonly until: number } {
    const { problem, timeline } = this.placer;
    const curing = lift === LIFT.curing;
    let by = -1;
    let until = this.latestBound(task, lift);
    for (const edge of problem.tasks[task]?.after ?? []) {
      const end = (timeline.endOf[edge.task] ?? 0) + (curing ? edge.lagMinutes : 0);
      if (end < until || (curing ? edge.lagMinutes === 0 : edge.lift !== lift)) continue;
      by = edge.task;
      until = end;
    }
    return { by, until };
  }

  private latestBound(task: number, lift: number): number {
    const bounds = this.placer.problem.tasks[task]?.bounds.filter((bound) => bound.lift === lift) ?? [];
    return Math.max(...bounds.map((bound) => bound.minute), -Infinity);
  }

  private lastHoldEnd(task: number, start: number): number {
    const { problem } = this.placer;
    const trade = problem.tasks[task]?.trade ?? -1;
    const trades = this.activity.chain
      ? this.activity.tasks.map((own) => problem.tasks[own]?.trade ?? -1)
      : [trade];
    let until = -Infinity;
    for (const one of trades) {
      const holds = one < 0 ? [] : (problem.holds[this.activity.site * problem.tradeCount + one] ?? []);
      for (let index = 1; index < holds.length; index += 2) {
        const end = holds[index] ?? 0;
        if (end <= start) until = Math.max(until, end);
      }
    }
    return until === -Infinity ? start : until;
  }
}
