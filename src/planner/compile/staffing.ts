/**
 * Who may work what: rule 1, the crews of a chain (rule 8), work under way (rule 11), and the sentence when nobody may.
 */
import type { Company, Crew, Task } from "../../domain/company-schema.js";

/** Most ways to share a chain among crews that are tried; beyond it the planner takes the first ones. */
const MOST_STAFFINGS = 24;

/** Hours of a task that are left to do. */
export function hoursLeft(task: Task): number {
  if (task.status === "done") return 0;
  if (task.status === "under-way" && task.leftHours !== null) return task.leftHours;
  return task.laborHours ?? 0;
}

/** The crew that has begun a task, or must do it, by id. */
export function boundCrew(task: Task): string | null {
  return task.status === "under-way" ? (task.doneBy ?? task.crew) : task.crew;
}

export function mayWork(crew: Crew, task: Task): boolean {
  if (task.trade === null || crew.trades[task.trade] === undefined || crew.size < task.minCrew) return false;
  const bound = boundCrew(task);
  return bound === null || bound === crew.id;
}

/** Whether a task takes a crew's time at all. */
export function needsCrew(task: Task): boolean {
  return task.trade !== null && hoursLeft(task) > 0;
}

interface TradeCrew {
  readonly index: number;
  readonly crew: Crew;
  /** Labor-hours in an hour. */
  readonly speed: number;
}

/** The crews of a company by trade. */
export class Roster {
  private readonly byTrade: ReadonlyMap<string, readonly TradeCrew[]>;
  /** Most tasks have a twin: what is the same for both is made once. */
  private readonly lengths = new Map<string, Int32Array>();
  private readonly staffings = new Map<string, readonly Int32Array[]>();

  constructor(private readonly company: Company) {
    this.byTrade = new Map(
      company.trades.map(({ id }) => [
        id,
        company.crews.flatMap((crew, index): TradeCrew[] => {
          const pace = crew.trades[id];
          return pace === undefined ? [] : [{ index, crew, speed: crew.size * pace }];
        }),
      ]),
    );
  }

  /** Minutes that each crew needs for what is left of a task; −1 where it does not do the trade, 0 for no work. */
  lengthsOf(task: Task): Int32Array {
    const key = needsCrew(task) ? `${task.trade ?? ""} ${hoursLeft(task)}` : "";
    let lengths = this.lengths.get(key);
    if (!lengths) {
      lengths = this.findLengths(task);
      this.lengths.set(key, lengths);
    }
    return lengths;
  }

  private findLengths(task: Task): Int32Array {
    const lengths = new Int32Array(this.company.crews.length).fill(needsCrew(task) ? -1 : 0);
    if (!needsCrew(task)) return lengths;
    const minutes = hoursLeft(task) * 60;
    for (const { index, speed } of this.byTrade.get(task.trade ?? "") ?? []) {
      lengths[index] = Math.ceil(minutes / speed - 1e-9);
    }
    return lengths;
  }

  /** For each way to staff the tasks, the crew (by index) of each; none where it cannot be. */
  listStaffings(tasks: readonly Task[], oneCrew: boolean): readonly Int32Array[] {
    const facts = tasks.map((task) => (needsCrew(task) ? [task.trade, task.minCrew, boundCrew(task)] : null));
    const key = JSON.stringify([oneCrew, facts]);
    let staffings = this.staffings.get(key);
    if (!staffings) {
      staffings = this.findStaffings(tasks, oneCrew);
      this.staffings.set(key, staffings);
    }
    return staffings;
  }

  private findStaffings(tasks: readonly Task[], oneCrew: boolean): readonly Int32Array[] {
    const [first, ...others] = tasks.filter(needsCrew);
    if (!first) return [];
    const all = this.listEligible(first).filter(({ crew }) => others.every((task) => mayWork(crew, task)));
    const single = all.map(({ index }) => new Int32Array(tasks.length).fill(index));
    if (oneCrew) return single;
    const mixed = this.shareOut(tasks).filter((crews) => new Set(crews).size > 1);
    return [...single, ...mixed.slice(0, MOST_STAFFINGS)];
  }

  private listEligible(task: Task): readonly TradeCrew[] {
    return (this.byTrade.get(task.trade ?? "") ?? []).filter(({ crew }) => mayWork(crew, task));
  }

  /** Each way to give each trade of the tasks a crew of its own. */
  private shareOut(tasks: readonly Task[]): Int32Array[] {
    let ways: number[][] = [[]];
    for (const [place, task] of tasks.entries()) {
      const same = tasks.findIndex((other) => other.trade === task.trade && needsCrew(other));
      const crews = this.listEligible(task).map(({ index }) => index);
      ways = ways.flatMap((way) => {
        if (!needsCrew(task)) return [[...way, way[0] ?? 0]];
        const before = same < place ? way[same] : undefined;
        const open = before !== undefined && crews.includes(before) ? [before] : crews;
        return open.map((crew) => [...way, crew]);
      });
      ways = ways.slice(0, MOST_STAFFINGS * 4);
    }
    return ways.map((way) => Int32Array.from(way));
  }
}

/** Why no crew may work a task. */
export function whyNobody(company: Company, task: Task): string {
  const trade = company.trades.find((known) => known.id === task.trade)?.name.en ?? task.trade ?? "";
  const bound = boundCrew(task);
  if (bound !== null) {
    const crew = company.crews.find((known) => known.id === bound);
    const name = crew?.name ?? bound;
    const how = task.status === "under-way" ? "has begun it" : "is named for it";
    if (crew && task.trade !== null && crew.trades[task.trade] === undefined) {
      return `Crew ${name} ${how} but does not do ${trade}. Name another crew, or give ${name} that trade.`;
    }
    return `Crew ${name} ${how} but has ${crew?.size ?? 0} people; the task needs ${task.minCrew}.`;
  }
  return `No crew does ${trade} with at least ${task.minCrew} people.`;
}

/** Why no crew may work a chain. */
export function whyNobodyForChain(company: Company, tasks: readonly Task[], oneCrew: boolean): string {
  for (const task of tasks.filter(needsCrew)) {
    if (!company.crews.some((crew) => mayWork(crew, task))) return whyNobody(company, task);
  }
  const trades = [...new Set(tasks.filter(needsCrew).map((task) => task.trade))].map(
    (id) => company.trades.find((trade) => trade.id === id)?.name.en ?? id,
  );
  const bound = [...new Set(tasks.flatMap((task) => boundCrew(task) ?? []))];
  const names = bound.map((id) => company.crews.find((crew) => crew.id === id)?.name ?? id);
  const bind = names.length > 0 ? ` (bound to ${names.join(" and ")})` : "";
  return oneCrew
    ? `No crew has all the trades of this chain${bind}: ${trades.join(", ")}. What is opened must be closed by the same crew by dark.`
    : `No crews can share this chain${bind}: ${trades.join(", ")}.`;
}
