/**
 * Which of its staffings an activity gets where nobody has said: the one that makes it cheapest (see PlacementPricer).
 * Staffings are tried by what they cost at best, so that most need not be tried.
 */
import { EndBounds } from "./end-bounds.js";
import { PlacementPricer } from "./placement-pricer.js";
import type { Placer } from "./placer.js";
import { LIFT, type Problem } from "./problem.js";
import type { Placement } from "./timeline.js";

export interface ChosenStaffing {
  readonly staffing: number;
  readonly placement: Placement;
}

export class CheapestStaffing {
  private readonly pricer: PlacementPricer;
  private readonly bounds: EndBounds;
  private readonly tried: number[] = [];
  private readonly least: number[] = [];

  constructor(private readonly problem: Problem) {
    this.pricer = new PlacementPricer(problem);
    this.bounds = new EndBounds(problem);
  }

  /** Null where none fits. */
  choose(placer: Placer, index: number, dayValue: number): ChosenStaffing | null {
    this.listTries(placer, index, dayValue);
    let best: ChosenStaffing | null = null;
    let lowest = Infinity;
    for (let at = 0; at < this.tried.length && (this.least[at] ?? 0) < lowest; at++) {
      const staffing = this.tried[at] as number; // proof: at is below its length
      const placement = placer.attempt(index, staffing, LIFT.nothing);
      const price = placement ? this.pricer.price(placement, dayValue) : Infinity;
      if (placement === null || price >= lowest) continue;
      lowest = price;
      best = { staffing, placement };
    }
    return best;
  }

  private listTries(placer: Placer, index: number, dayValue: number): void {
    const { tried, least, problem } = this;
    tried.length = 0;
    least.length = 0;
    const activity = problem.activities[index];
    const first = problem.tasks[activity?.tasks[0] ?? -1];
    const earliest = first ? placer.earliest(first, index, LIFT.nothing) : problem.start;
    for (const [staffing, crews] of (activity?.staffings ?? []).entries()) {
      const end = this.bounds.soonest(placer, index, staffing, earliest);
      const price = this.pricer.leastPrice(index, placer.timeline, crews, end, dayValue);
      let at = tried.length;
      for (; at > 0 && (least[at - 1] ?? 0) > price; at--) {
        tried[at] = tried[at - 1] ?? 0;
        least[at] = least[at - 1] ?? 0;
      }
      tried[at] = staffing;
      least[at] = price;
    }
  }
}
