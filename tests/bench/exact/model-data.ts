/**
 * The numbers of an exact problem under the names of the MiniZinc model. Crews, activities, pieces and houses count from
 * 1 there; costs are whole, in a unit so small that all three prices are.
 */
import { addDays, daysBetween, mondayOf } from "../../../src/domain/time.js";
import { DAY, type ExactProblem } from "./exact-problem.js";
import type { DayWindow } from "./crew-windows.js";
import { refuse } from "./what-is-said.js";

export interface CostUnit {
  /** How many units one unit of the plan's cost is. */
  readonly perOne: number;
  readonly lateDay: number;
  readonly idleMinute: number;
  readonly overtimeMinute: number;
}

/** Prices as whole numbers of the largest unit that divides them all. */
export function costUnit({ company }: ExactProblem): CostUnit {
  const { lateDay, idleCrewHour, overtimeCrewHour } = company.policy.cost;
  const fine = [60, lateDay * 60, idleCrewHour, overtimeCrewHour];
  if (fine.some((price) => !Number.isInteger(price))) refuse("prices with parts of a unit");
  const divisor = fine.reduce(greatestDivisor);
  const [perOne, late, idle, over] = fine.map((price) => price / divisor);
  return { perOne: perOne ?? 1, lateDay: late ?? 0, idleMinute: idle ?? 0, overtimeMinute: over ?? 0 };
}

function greatestDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestDivisor(b, a % b);
}

/** `bound` is the cost of a solution that is known: nothing dearer is looked for. */
export function buildModelData(problem: ExactProblem, bound: number): Readonly<Record<string, unknown>> {
  const { company, activities, pieces, waits, edges, afterWait, firstDate } = problem;
  const { crews, jobs, policy } = company;
  const weights = jobs.map((job) => job.weight);
  if (weights.some((weight) => !Number.isInteger(weight))) refuse("a weight that is no whole number");
  const unit = costUnit(problem);
  const lastDays = listLastDays(problem, bound);
  // One day more than any house may take, for what is over a house's last day.
  const dayCount = Math.min(problem.dayCount, Math.max(...lastDays) + 2);
  const crewDays = problem.windows.days.map((days) => days.slice(0, dayCount));
  const slots = crewDays.flat();
  const worked = crewDays.flatMap((days) => {
    let sum = 0;
    return days.map(({ from, to }) => (sum += to - from) - (to - from));
  });
  const overhead = problem.setupMinutes + problem.cleanupMinutes;
  const rows = listLatestRows(problem, crewDays);
  const weeks = Array.from({ length: dayCount }, (_, day) => {
    const monday = mondayOf(addDays(firstDate, day));
    return 1 + daysBetween(mondayOf(firstDate), monday) / 7;
  });
  const waitLinks = waits.flatMap(({ after }, wait) => after.map((activity) => ({ wait, activity })));
  return {
    K: crews.length,
    N: activities.length,
    P: pieces.length,
    H: jobs.length,
    W: waits.length,
    D: dayCount,
    house: activities.map(({ job }) => job + 1),
    release: activities.map(({ release }) => release),
    minutes: activities.map(({ minutes }) => minutes),
    firstPiece: activities.map((activity) => (activity.pieces[0] ?? 0) + 1),
    lastPiece: activities.map((activity) => (activity.pieces.at(-1) ?? 0) + 1),
    act: pieces.map(({ activity }) => activity + 1),
    whole: pieces.map(({ whole }) => whole),
    pieceMinutes: pieces.map(({ minutes }) => minutes),
    latestRow: rows.rowOf.map((row) => row + 1),
    R: rows.rows.length,
    latestBefore: rows.rows,
    from: slots.map(({ from }) => from),
    to: slots.map(({ to }) => to),
    worked,
    paidIdle: slots.map(({ from, to, paidMinutes }) => (to > from ? paidMinutes - overhead : 0)),
    E: edges.length,
    edgeFrom: edges.map(({ from }) => from + 1),
    edgeTo: edges.map(({ to }) => to + 1),
    edgeLag: edges.map(({ lagDays }) => lagDays),
    nextDate: edges.map(({ nextDate }) => nextDate),
    waitHouse: waits.map(({ job }) => job + 1),
    waitEnd: waits.flatMap(({ endDay }) =>
      endDay.slice(0, dayCount).map((day) => Math.min(day, dayCount - 1)),
    ),
    X: waitLinks.length,
    waitOf: waitLinks.map(({ wait }) => wait + 1),
    waitAfter: waitLinks.map(({ activity }) => activity + 1),
    Y: afterWait.length,
    byWait: afterWait.map(({ wait }) => wait + 1),
    afterWait: afterWait.map(({ to }) => to + 1),
    travel: problem.travel,
    setup: problem.setupMinutes,
    cleanup: problem.cleanupMinutes,
    rest: Math.min(problem.windows.breakAt, DAY - 1),
    promised: problem.promisedDay.map((day) => day ?? dayCount),
    weight: weights,
    lastDay: lastDays,
    bound: Math.floor(bound * unit.perOne + 1e-6),
    lateCost: unit.lateDay,
    idleCost: unit.idleMinute,
    overtimeCost: unit.overtimeMinute,
    weeks: Math.max(...weeks),
    weekOf: weeks,
    paid: slots.map(({ paidMinutes }) => paidMinutes),
    weeklyMinutes: policy.weeklyHours * 60,
  };
}

/**
 * For each piece, crew and day the last point before that day at which the piece could have begun: a whole one so that
 * it ends inside its window, one that may be split with a minute to go. Pieces with equal rows share one.
 */
function listLatestRows(
  problem: ExactProblem,
  crewDays: readonly (readonly DayWindow[])[],
): { readonly rows: number[][]; readonly rowOf: number[] } {
  const rows = new Map<string, number>();
  const rowOf = problem.pieces.map(({ whole, minutes }) => {
    const row = crewDays.flatMap((days, crew) => {
      const least = whole ? Math.max(1, minutes[crew] ?? 0) : 1;
      let latest = -1;
      return days.map(({ from, to }, day) => {
        const before = latest;
        if (to - from >= least) latest = day * DAY + to - least;
        return before;
      });
    });
    const key = JSON.stringify(row);
    const known = rows.get(key) ?? rows.size;
    rows.set(key, known);
    return known;
  });
  return { rows: [...rows.keys()].map((key) => JSON.parse(key) as number[]), rowOf };
}

/** The last day on which a house can end in a solution that costs no more than `bound`. */
function listLastDays({ company, promisedDay, dayCount }: ExactProblem, bound: number): number[] {
  return company.jobs.map(({ weight }, job) => {
    const promised = promisedDay[job];
    const priceOfDay = company.policy.cost.lateDay * weight;
    if (promised === undefined || priceOfDay <= 0) return dayCount - 2;
    return Math.min(dayCount - 2, Math.max(0, promised) + Math.floor(bound / priceOfDay + 1e-9));
  });
}
