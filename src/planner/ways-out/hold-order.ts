/**
 * Hold the order: everything waits its turn. Crews' work is decoded in the order to hold; rain work is done only where no
 * task gets ahead of one that its crew had before it.
 */
import type { Choice } from "../core/construct.js";
import { Placer } from "../core/placer.js";
import { LIFT, NEVER, type CoreTask, type Problem } from "../core/problem.js";
import { listGaps } from "../core/rain-work.js";
import { Timeline, type Placement } from "../core/timeline.js";
import type { HeldOrder } from "./held-order.js";
import type { Recovery, Solved, Variant } from "./recovery.js";

/**
 * The plan of a variant in the order to hold. A task whose crew can never work it goes to one that can. Where the standing
 * order would move what is published inside the freeze, that comes before it if it can then be kept; another order that is
 * given stays as it is.
 */
export function holdOrder(recovery: Recovery, variant: Variant, given?: HeldOrder): Solved {
  const held = given ?? recovery.held;
  const decode = (order: Int32Array): Solved => new Holder(recovery, variant, held.staffing).run(order);
  const inOrder = decode(held.order);
  const unkept = recovery.promises.listUnkept(inOrder.timeline);
  if (given !== undefined || unkept.size === 0) return inOrder;
  const promisedFirst = decode(putFirst(variant.compiled.problem, held, recovery.promises.tasks));
  return recovery.promises.listUnkept(promisedFirst.timeline).size < unkept.size ? promisedFirst : inOrder;
}

/** Activities with these tasks, and what they follow, right behind what comes before everything else. */
function putFirst(
  { activities }: Problem,
  { order, first }: HeldOrder,
  tasks: ReadonlySet<number>,
): Int32Array {
  const before = new Set(first);
  const add = (index: number): void => {
    if (before.has(index)) return;
    for (const earlier of activities[index]?.after ?? []) add(earlier);
    before.add(index);
  };
  for (const index of order) if (activities[index]?.tasks.some((task) => tasks.has(task))) add(index);
  return Int32Array.from([...before, ...order.filter((index) => !before.has(index))]);
}

class Holder {
  /** The variant's problem, with bounds on tasks that would get ahead of others. */
  private readonly problem: Problem;
  private readonly tasks: CoreTask[];
  private readonly timeline: Timeline;
  private readonly placer: Placer;
  /** By crew, the latest first start of an activity on its line. */
  private readonly lastStart: Float64Array;
  /** By crew, whether its hours are others than in the plain company. */
  private readonly isEdited: readonly boolean[];

  constructor(
    private readonly recovery: Recovery,
    private readonly variant: Variant,
    private readonly staffing: Int32Array,
  ) {
    const { problem, company } = variant.compiled;
    const edited = new Set(
      variant.edits.flatMap((edit) => ("date" in edit && "crew" in edit ? [edit.crew] : [])),
    );
    this.isEdited = company.crews.map(({ id }) => edited.has(id));
    this.tasks = problem.tasks.slice();
    this.problem = { ...problem, tasks: this.tasks };
    this.timeline = new Timeline(this.problem);
    this.placer = new Placer(this.problem, this.timeline);
    this.lastStart = new Float64Array(problem.crewCount).fill(NEVER);
  }

  run(order: Int32Array): Solved {
    const { problem, timeline, placer, recovery, variant } = this;
    const choices: Choice[] = [];
    const unplaced: number[] = [];
    for (const index of order) {
      const found = this.place(index);
      if (found === null) {
        unplaced.push(index);
        continue;
      }
      const { placement, choice } = found;
      timeline.commit(placement, listGaps(placer, placement));
      choices.push(choice);
      for (const [place, crew] of placement.crews.entries()) {
        if (crew >= 0)
          this.lastStart[crew] = Math.max(this.lastStart[crew] ?? NEVER, placement.starts[place] ?? NEVER);
      }
    }
    unplaced.sort((a, b) => a - b);
    return recovery.solve(variant, problem, timeline, choices, unplaced);
  }

  private place(index: number): { readonly placement: Placement; readonly choice: Choice } | null {
    const activity = this.problem.activities[index];
    if (!activity?.after.every((before) => this.timeline.placed[before])) return null;
    const own = this.staffing[index] ?? 0;
    const others = [...activity.staffings.keys()].filter((staffing) => staffing !== own);
    for (const staffing of [own, ...others]) {
      const placement = this.placeBehind(index, staffing);
      if (placement) return { placement, choice: { activity: index, staffing } };
    }
    return null;
  }

  /** The placement that starts no earlier than anything its crew has been given before. */
  private placeBehind(index: number, staffing: number): Placement | null {
    const placement = this.attempt(index, staffing);
    const [crew] = placement?.crews ?? [];
    if (!placement || placement.inGaps.length === 0 || crew === undefined) return placement;
    const minute = this.lastStart[crew] ?? NEVER;
    if (placement.start >= minute) return placement;
    for (const task of this.problem.activities[index]?.tasks ?? []) {
      const facts = this.tasks[task];
      if (facts) this.tasks[task] = { ...facts, bounds: [...facts.bounds, { minute, lift: LIFT.crewBusy }] };
    }
    return this.placer.attempt(index, staffing, LIFT.nothing);
  }

  /** What crews with their usual hours do is mostly the same from one variant to the next. */
  private attempt(index: number, staffing: number): Placement | null {
    const crews = this.problem.activities[index]?.staffings[staffing];
    const isUsual = crews?.every((crew) => this.isEdited[crew] !== true) === true;
    return isUsual
      ? this.recovery.memo.attempt(this.placer, index, staffing)
      : this.placer.attempt(index, staffing, LIFT.nothing);
  }
}
