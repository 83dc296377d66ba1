/**
 * Stretched and extra days: which crews could have them, which of them help, and what they give.
 */
import type { Crew } from "../../domain/company-schema.js";
import { dayStart, weekdayOf, WEEKDAYS, type CivilDate } from "../../domain/time.js";
import { shiftOn } from "../compile/calendars.js";
import type { Visit } from "../core/visit.js";
import { LIFT } from "../core/problem.js";
import { Pieces, Windows } from "../core/windows.js";
import { coverMinutesOf } from "../report/open-wall.js";
import type { CompanyEdit } from "./company-edits.js";
import { holdOrder } from "./hold-order.js";
import type { Recovery, Solved } from "./recovery.js";
import type { Permissions, PermissionUse } from "./way-out.js";

type LongerDay = Extract<CompanyEdit, { kind: "stretch-day" | "extra-day" }>;

/** Crews that are given longer days together, at most: those that the slip delays most. */
const MOST_CREWS = 6;
/** Times that a plan is tried with fewer of them, in a company of so many activities. */
const MOST_TRIALS = 12;
const LARGE = 400;

/** Days that may run to last light and would have light for it. */
export function listStretchDays(recovery: Recovery, permissions: Permissions): readonly LongerDay[] {
  return listDays(recovery, permissions, permissions.stretch, (crew, crewIndex, date, day) => {
    const { problem } = recovery.plain.compiled;
    if (crew.stretch.includes(date) || problem.shift.end(crewIndex, day) <= problem.start) return null;
    return { kind: "stretch-day", crew: crew.id, date };
  });
}

/** Days besides the week, by the hours of the weekday before. */
export function listExtraDays(recovery: Recovery, permissions: Permissions): readonly LongerDay[] {
  return listDays(recovery, permissions, permissions.saturday, (crew, _crewIndex, date, day) => {
    const { compiled } = recovery.plain;
    const isOff = crew.off.some(({ from, to }) => from <= date && date <= to);
    if (isOff || shiftOn(crew, compiled.days, day) !== null) return null;
    const hours = hoursBefore(crew, date);
    return hours ? { kind: "extra-day", crew: crew.id, date, hours } : null;
  });
}

function listDays(
  recovery: Recovery,
  permissions: Permissions,
  dates: readonly CivilDate[],
  make: (crew: Crew, crewIndex: number, date: CivilDate, day: number) => LongerDay | null,
): LongerDay[] {
  const { days, problem } = recovery.plain.compiled;
  const today = days.date(days.dayOf(problem.start));
  return recovery.company.crews.flatMap((crew, crewIndex) => {
    const isAsked = permissions.crews ? permissions.crews.includes(crew.id) : crew.kind === "own";
    if (!isAsked) return [];
    return [...new Set(dates)].sort().flatMap((date) => {
      const day = days.dayOf(dayStart(date, days.zone));
      if (date < today || day >= problem.dayCount) return [];
      return make(crew, crewIndex, date, day) ?? [];
    });
  });
}

/** The hours of the nearest day of the week before a date that the crew works. */
function hoursBefore(crew: Crew, date: CivilDate): readonly [string, string] | undefined {
  const own = WEEKDAYS.indexOf(weekdayOf(date));
  for (let back = 1; back <= 7; back++) {
    const hours = crew.week[WEEKDAYS[(own - back + 7) % 7] ?? "mon"];
    if (hours) return hours;
  }
  return undefined;
}

/**
 * The order held with those of the days that help: days without work behind the shift fall away, and so do crews and then
 * days without which no house is later and the plan no dearer. The held plan itself where none helps. Longer days are paid
 * for punctuality: what they cost is told, and does not keep them from being shown.
 */
export function holdWithLongerDays(
  recovery: Recovery,
  held: Solved,
  candidates: readonly LongerDay[],
): Solved {
  const delayed = listDelayed(recovery, held);
  const edits = candidates.filter(({ crew }) => delayed.includes(crew));
  if (edits.length === 0) return held;
  let best = solveUsed(recovery, edits);
  let trials = held.problem.activities.length > LARGE ? 0 : MOST_TRIALS;
  const leaveOut = (isLeftOut: (edit: LongerDay) => boolean): void => {
    const fewer = daysOf(best).filter((edit) => !isLeftOut(edit));
    if (trials === 0 || fewer.length === daysOf(best).length) return;
    trials -= 1;
    const without = solveUsed(recovery, fewer);
    if (!isMorePunctual(best, without)) best = without;
  };
  for (const crew of delayed.toReversed()) leaveOut((edit) => edit.crew === crew);
  for (const day of daysOf(best).toReversed())
    leaveOut((edit) => edit.crew === day.crew && edit.date === day.date);
  return daysOf(best).length > 0 && isMorePunctual(best, held) ? best : held;
}

/** Fewer tasks left out, then fewer days late, then cheaper. */
function isMorePunctual(one: Solved, other: Solved): boolean {
  const left = one.unplaced.length - other.unplaced.length;
  if (left !== 0) return left < 0;
  const late = one.costed.figures.lateDays - other.costed.figures.lateDays;
  return late === 0 ? one.price < other.price : late < 0;
}

/** Solves with longer days, then without those that turn out to have no use. */
function solveUsed(recovery: Recovery, edits: readonly LongerDay[]): Solved {
  const solved = holdOrder(recovery, recovery.extend(edits));
  return keepUsed(solved, (used) => holdOrder(recovery, recovery.extend(used)));
}

/** A schedule in which each longer day has its use; `again` solves with fewer of them. */
export function keepUsed(first: Solved, again: (edits: readonly LongerDay[]) => Solved): Solved {
  let solved = first;
  for (;;) {
    const edits = daysOf(solved);
    const used = edits.filter((edit) => usedMinutes(solved, edit) > 0);
    if (used.length === edits.length) return solved;
    solved = again(used);
  }
}

export function daysOf({ variant }: Solved): readonly LongerDay[] {
  return variant.edits.filter((edit) => edit.kind === "stretch-day" || edit.kind === "extra-day");
}

/** Crews that the slip sets back, or that work at a house that is late; the worst first. */
function listDelayed(recovery: Recovery, held: Solved): readonly string[] {
  const { problem, timeline } = held;
  const delay = new Float64Array(problem.crewCount);
  for (const [index, activity] of problem.activities.entries()) {
    const then = recovery.held.ends[index] ?? 0;
    for (const task of activity.tasks) {
      const crew = timeline.crewOf[task] ?? -1;
      const end = timeline.endOf[task] ?? 0;
      const late = Math.max(0, end - Math.max(activity.due, 0));
      if (crew >= 0) delay[crew] = (delay[crew] ?? 0) + Math.max(0, end - then) + late * activity.weight;
    }
  }
  return recovery.company.crews
    .map((crew, index) => ({ id: crew.id, delay: delay[index] ?? 0 }))
    .filter((crew) => crew.delay > 0)
    .sort((a, b) => b.delay - a.delay)
    .slice(0, MOST_CREWS)
    .map(({ id }) => id);
}

/** Minutes that a schedule makes of a longer day. */
function usedMinutes(solved: Solved, edit: LongerDay): number {
  return lookAt(solved, edit)?.usedMinutes ?? 0;
}

interface DayUse {
  readonly minutes: number;
  readonly usedMinutes: number;
}

function lookAt(solved: Solved, edit: LongerDay): DayUse | null {
  const { problem, days, company } = solved.variant.compiled;
  const crew = company.crews.findIndex(({ id }) => id === edit.crew);
  const day = days.dayOf(dayStart(edit.date, days.zone));
  const visits = (solved.timeline.visits[crew] ?? []).filter((visit) => visit.day === day);
  const last = visits.at(-1);
  if (!last) return null;
  const windows = new Windows(problem);
  const end = windows.shiftEnd(crew, day, last.site, LIFT.nothing);
  const from = Math.max(problem.shift.start(crew, day), problem.start);
  const home = homeMinute(solved, windows, last);
  if (edit.kind === "stretch-day") {
    const shiftEnd = Math.max(from, problem.shift.end(crew, day));
    return { minutes: Math.max(0, end - shiftEnd), usedMinutes: Math.max(0, home - shiftEnd) };
  }
  const rest = windows.breakStart(crew, day, end, LIFT.nothing);
  const restEnd = rest < 0 ? rest : rest + problem.breakMinutes;
  const withoutRest = (until: number): number =>
    Math.max(0, until - from) - Math.max(0, Math.min(until, restEnd) - Math.max(rest, from));
  return { minutes: withoutRest(end), usedMinutes: withoutRest(home) };
}

/** When a crew's day is over: its last house left and, where it starts at the yard, driven back to it. */
function homeMinute(solved: Solved, windows: Windows, last: Visit): number {
  const { problem, costed } = solved;
  const cover = coverMinutesOf(problem, costed.openUnits)(last);
  const left = last.closeStart + cover + last.cleanupMinutes;
  if (!problem.startsAtYard[last.crew]) return left;
  const shift = new Pieces();
  windows.buildShift(shift, last.crew, last.day, last.site, LIFT.nothing);
  const drive = problem.travel(last.site, problem.siteCount);
  return shift.firstFit(left, drive) + drive;
}

/** What the longer days of a schedule give. */
export function listDayUses(solved: Solved): readonly PermissionUse[] {
  return daysOf(solved).flatMap((edit): PermissionUse[] => {
    const use = lookAt(solved, edit);
    if (!use) return [];
    const { crew, date } = edit;
    return edit.kind === "stretch-day"
      ? [{ kind: "stretch", crew, date, ...use }]
      : [{ kind: "saturday", crew, date, hours: edit.hours, ...use }];
  });
}
