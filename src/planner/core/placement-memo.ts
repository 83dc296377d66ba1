/**
 * Where each activity went in the schedules before: a search decodes orders that are nearly the same, and most
 * activities go where they went, behind the same work of the same crew. What depends on more than that is not kept.
 */
import { usesEquipment } from "./equipment.js";
import type { Placer } from "./placer.js";
import { LIFT, type Problem } from "./problem.js";
import type { Placement } from "./timeline.js";
import { isSameVisit } from "./visit.js";

interface Known {
  readonly staffing: number;
  /** By task, the minute from which it might start. */
  readonly gates: readonly number[];
  readonly placement: Placement;
}

export class PlacementMemo {
  /** Of each activity the last two: what stands, and what was tried and given up. */
  private readonly latest: (Known | undefined)[];
  private readonly earlier: (Known | undefined)[];
  private readonly isKept: Uint8Array;

  constructor(private readonly problem: Problem) {
    const { activities } = problem;
    this.latest = activities.map(() => undefined);
    this.earlier = activities.map(() => undefined);
    // Who else holds equipment is not looked at here.
    this.isKept = Uint8Array.from(activities, (activity) => (usesEquipment(problem, activity) ? 0 : 1));
  }

  /** The same as the placer's attempt with nothing lifted. */
  attempt(placer: Placer, index: number, staffing: number): Placement | null {
    if (!this.isKept[index]) return placer.attempt(index, staffing, LIFT.nothing);
    const latest = this.latest[index];
    if (latest && this.holds(placer, index, staffing, latest)) return latest.placement;
    const earlier = this.earlier[index];
    this.earlier[index] = latest;
    this.latest[index] = earlier;
    if (earlier && this.holds(placer, index, staffing, earlier)) return earlier.placement;
    placer.worker.askedToShift = false;
    const placement = placer.attempt(index, staffing, LIFT.nothing);
    // Whether work may be pushed back depends on what follows it.
    const isAlone = placement !== null && !placer.worker.askedToShift && this.hasNoGaps(placer, placement);
    this.latest[index] = isAlone ? { staffing, gates: this.listGates(placer, index), placement } : undefined;
    return placement;
  }

  private holds(placer: Placer, index: number, staffing: number, known: Known): boolean {
    if (known.staffing !== staffing || !this.hasNoGaps(placer, known.placement)) return false;
    for (const { crew, base } of known.placement.drafts)
      if (!isSameVisit(placer.timeline.lastVisit(crew), base)) return false;
    const { tasks } = this.problem.activities[index] ?? { tasks: [] };
    for (let place = 0; place < tasks.length; place++)
      if (this.gateOf(placer, index, tasks[place] ?? -1) !== known.gates[place]) return false;
    return true;
  }

  private hasNoGaps({ timeline }: Placer, { drafts, inGaps }: Placement): boolean {
    return inGaps.length === 0 && drafts.every(({ crew }) => timeline.gaps[crew]?.length === 0);
  }

  private listGates(placer: Placer, index: number): number[] {
    return (this.problem.activities[index]?.tasks ?? []).map((task) => this.gateOf(placer, index, task));
  }

  private gateOf(placer: Placer, index: number, task: number): number {
    const facts = this.problem.tasks[task];
    return facts ? placer.earliest(facts, index, LIFT.nothing) : this.problem.start;
  }
}
