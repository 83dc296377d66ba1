/**
 * Cheap proofs that an activity cannot start earlier with a constraint lifted, so that nobody has to try: what it follows
 * has only just let go, its crew comes straight from other work, or what is lifted takes nothing from the days at hand.
 * Each is a bound that holds in every trial; where none applies, a trial decides.
 */
import { shareMinutes } from "./core/chain-placer.js";
import type { Placer } from "./core/placer.js";
import { LIFT, type Activity } from "./core/problem.js";
import type { Placement } from "./core/timeline.js";
import { lastEnd, type Visit } from "./core/visit.js";
import type { Windows } from "./core/windows.js";

/** Constraints that only bound the start; every trial looks at them through `Placer.earliest` alone. */
const GATES = LIFT.afterTask | LIFT.curing | LIFT.wait | LIFT.notBefore | LIFT.delivery | LIFT.published;

const NO_HOLDS = new Int32Array();

export class LiftProofs {
  private readonly gates: readonly number[];
  /** No trial that leaves the crew its other work starts before this. */
  private readonly line: number;

  constructor(
    private readonly placer: Placer,
    private readonly index: number,
    private readonly activity: Activity,
    private readonly actual: Placement,
    private readonly windows: Windows,
  ) {
    this.gates = this.listGates(LIFT.nothing);
    this.line = this.findLine();
  }

  /** Whether the first task of the activity surely starts no earlier with `lifted` left out. */
  startsNoEarlier(lifted: number): boolean {
    const { actual, placer, activity } = this;
    const [start = 0] = actual.starts;
    if (!(lifted & LIFT.crewBusy) && this.line >= start) return true;
    const first = placer.problem.tasks[activity.tasks[0] ?? -1];
    return first !== undefined && !first.begun && placer.earliest(first, this.index, lifted) >= start;
  }

  /** Whether a trial with `lifted` left out is surely the actual placement again. */
  changesNothing(lifted: number): boolean {
    if (lifted & GATES && this.listGates(lifted).some((gate, place) => gate !== this.gates[place]))
      return false;
    const others = lifted & ~GATES;
    return (
      others === 0 || (!(others & ~(LIFT.access | LIFT.noLight | LIFT.hold)) && this.hasSameDays(others))
    );
  }

  /**
   * Whether a later task of a chain follows the first without a pause: one crew works them one after another, so that
   * it starts no earlier as long as the first does not.
   */
  followsAtOnce(place: number): boolean {
    const { actual, activity, placer } = this;
    const { chain, tasks } = activity;
    const crew = actual.crews[0] ?? -1;
    if (!chain || placer.problem.openNights > 0) return false;
    let start = actual.starts[0] ?? 0;
    for (let before = 0; before < place; before++) {
      const minutes = placer.problem.tasks[tasks[before] ?? -1]?.minutes[crew] ?? 0;
      start += shareMinutes(chain, before, chain.firstUnit, minutes);
    }
    return start === actual.starts[place];
  }

  private listGates(lifted: number): number[] {
    const { placer, index, activity } = this;
    return activity.tasks.map((task) => {
      const facts = placer.problem.tasks[task];
      return facts ? placer.earliest(facts, index, lifted) : placer.problem.start;
    });
  }

  /** The crew's draft, where one crew works all of it at the end of its line and has no gaps to fill. */
  private get draft() {
    const [draft] = this.actual.drafts;
    if (!draft || this.actual.drafts.length > 1 || this.actual.inGaps.length > 0) return null;
    return this.placer.timeline.gaps[draft.crew]?.length === 0 ? draft : null;
  }

  private findLine(): number {
    const { problem } = this.placer;
    const { draft, activity, actual } = this;
    const base = draft?.base;
    if (!draft || !base) return -Infinity;
    if (base.site === activity.site) return keeps(base, draft.extended) ? lastEnd(base) : -Infinity;
    // On a later day the crew comes from home.
    if (problem.dayStart.dayOf(actual.starts[0] ?? 0) !== base.day) return -Infinity;
    const trade = problem.tasks[activity.tasks[0] ?? -1]?.trade ?? -1;
    return base.leave + problem.travel(base.site, activity.site) + (problem.setupMinutes[trade] ?? 0);
  }

  /** Whether access, light or holds take nothing from the crew's shifts on all days that were looked at. */
  private hasSameDays(lifted: number): boolean {
    const { problem, worker } = this.placer;
    const { draft, activity, windows } = this;
    const { site } = activity;
    if (!draft || !problem.sharesCrewDays[site]) return false;
    const first = worker.firstDay({ last: draft.base }, Math.min(...this.gates));
    const last = draft.last?.day ?? -1;
    if (lifted & LIFT.hold && this.isHeld(problem.dayStart.at(first), problem.dayStart.at(last + 1)))
      return false;
    for (let day = first; day <= last; day++) {
      const start = windows.shiftStart(draft.crew, day, LIFT.nothing);
      const end = windows.shiftEnd(draft.crew, day, site, LIFT.nothing);
      if (end <= start) continue;
      for (const [lift, table] of [
        [LIFT.access, problem.access],
        [LIFT.noLight, problem.light],
      ] as const)
        if (lifted & lift && (table.start(site, day) > start || table.end(site, day) < end)) return false;
    }
    return true;
  }

  /** Whether any trade stands still at the house in that time. */
  private isHeld(from: number, to: number): boolean {
    const { holds, tradeCount } = this.placer.problem;
    for (let trade = 0; trade < tradeCount; trade++) {
      const own = holds[this.activity.site * tradeCount + trade] ?? NO_HOLDS;
      for (let at = 0; at + 1 < own.length; at += 2)
        if ((own[at] ?? 0) < to && (own[at + 1] ?? 0) > from) return true;
    }
    return false;
  }
}

/** Whether a visit has grown by work behind what was in it, at its times: with wider windows it does the same. */
function keeps(base: Visit, extended: Visit | null): boolean {
  return extended !== null && extended.items[base.items.length - 1] === base.items.at(-1);
}
