/**
 * What each crew's line adds to the cost of a plan: idle time, overtime, moves. From one schedule of a search to the next
 * most lines stay as they are, and are not counted again.
 */
import type { DayHours } from "../core/day-hours.js";
import type { Problem } from "../core/problem.js";
import type { Timeline } from "../core/timeline.js";
import type { Visit } from "../core/visit.js";
import { countMoves } from "./moves.js";

export interface CrewFigures {
  readonly idleMinutes: number;
  readonly overtimeMinutes: number;
  readonly moves: number;
}

interface Counted {
  readonly visits: readonly Visit[];
  readonly figures: CrewFigures;
}

export class CrewLedger {
  /** Of each crew the last two lines that were counted. */
  private readonly latest: (Counted | undefined)[] = [];
  private readonly earlier: (Counted | undefined)[] = [];
  /** With open nights crews share chains, and what a line costs is not known from it alone. */
  private readonly keepsLines: boolean;

  constructor(
    private readonly problem: Problem,
    private readonly hours: DayHours,
    private readonly weekOfDay: Int32Array,
    private readonly weeklyMinutes: number,
  ) {
    const standsOpen = problem.activities.some((activity) => activity.chain?.openAtStart.includes(true));
    this.keepsLines = problem.openNights === 0 && !standsOpen;
  }

  /** `coverMinutes` gives the cover-up of each visit. */
  sum(timeline: Timeline, coverMinutes: (visit: Visit) => number): CrewFigures {
    let idleMinutes = 0;
    let overtimeMinutes = 0;
    let moves = 0;
    for (let crew = 0; crew < this.problem.crewCount; crew++) {
      const figures = this.figuresOf(timeline, crew, coverMinutes);
      idleMinutes += figures.idleMinutes;
      overtimeMinutes += figures.overtimeMinutes;
      moves += figures.moves;
    }
    return { idleMinutes, overtimeMinutes, moves };
  }

  private figuresOf(timeline: Timeline, crew: number, coverMinutes: (visit: Visit) => number): CrewFigures {
    const visits = timeline.visits[crew] ?? [];
    if (!this.keepsLines) return this.count(timeline, crew, visits, coverMinutes);
    const latest = this.latest[crew];
    if (latest && isSameLine(latest.visits, visits)) return latest.figures;
    const earlier = this.earlier[crew];
    this.earlier[crew] = latest;
    const counted =
      earlier && isSameLine(earlier.visits, visits)
        ? earlier
        : { visits, figures: this.count(timeline, crew, visits, coverMinutes) };
    this.latest[crew] = counted;
    return counted.figures;
  }

  private count(
    timeline: Timeline,
    crew: number,
    visits: readonly Visit[],
    coverMinutes: (visit: Visit) => number,
  ): CrewFigures {
    const limit = this.weeklyMinutes;
    let idleMinutes = 0;
    let overtimeMinutes = 0;
    let week = -1;
    let paidInWeek = 0;
    for (let from = 0; from < visits.length;) {
      const day = visits[from]?.day ?? 0;
      let to = from + 1;
      while (visits[to]?.day === day) to += 1;
      const own = visits.slice(from, to);
      from = to;
      const last = own.at(-1);
      if (!last) continue;
      const paid = this.hours.paidMinutes(crew, day, last, coverMinutes(last));
      idleMinutes += paid - this.hours.busyMinutes(crew, own, coverMinutes);
      const ownWeek = this.weekOfDay[day] ?? 0;
      if (ownWeek !== week) {
        overtimeMinutes += Math.max(0, paidInWeek - limit);
        week = ownWeek;
        paidInWeek = 0;
      }
      paidInWeek += paid;
    }
    overtimeMinutes += Math.max(0, paidInWeek - limit);
    return { idleMinutes, overtimeMinutes, moves: countMoves(this.problem, timeline, crew) };
  }
}

function isSameLine(one: readonly Visit[], other: readonly Visit[]): boolean {
  if (one.length !== other.length) return false;
  for (let index = 0; index < one.length; index++) if (one[index] !== other[index]) return false;
  return true;
}
