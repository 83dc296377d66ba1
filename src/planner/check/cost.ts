/**
 * The cost figures, counted again from the blocks by readings 21 to 25, and compared with what the plan says.
 */
import {
  addDays,
  civilDate,
  civilDateAt,
  dayStart,
  daysBetween,
  mondayOf,
  parseInstant,
  type CivilDate,
} from "../../domain/time.js";
import { zoneOfJob, type Job } from "../../domain/company-schema.js";
import type { BrokenRule } from "./broken-rule.js";
import type { Case, Check } from "./case.js";
import { dateOf, type CrewDay } from "./crew-days.js";
import { keyOf, workOf, type Evidence } from "./evidence.js";
import { listPublishedWork } from "./frozen.js";
import { ordinaryShift } from "./shift.js";
import { minutesBetween, minutesIn } from "./spans.js";
import { listStrands } from "./strands.js";
import { openSpan } from "./unit-work.js";

const TOLERANCE = 1e-6;

export const checkCost: Check = (files) => {
  const { company, plan } = files.evidence;
  const late = listLateDays(files);
  const paid = files.days.map((day) => ({ day, ...paidMinutes(files, day) }));
  const amounts = {
    lateDays: late.reduce((sum, { days }) => sum + days, 0),
    idleCrewHours: paid.reduce((sum, { idle }) => sum + idle, 0) / 60,
    moves: countMoves(files),
    changes: countChanges(files.evidence),
    openNights: countOpenNights(files),
    overtimeCrewHours: overtimeMinutes(files, paid) / 60,
  };
  const { cost } = company.policy;
  const total =
    cost.lateDay * late.reduce((sum, { days, job }) => sum + days * job.weight, 0) +
    cost.idleCrewHour * amounts.idleCrewHours +
    cost.move * amounts.moves +
    cost.change * amounts.changes +
    cost.openNight * amounts.openNights +
    cost.overtimeCrewHour * amounts.overtimeCrewHours;
  const counted = { ...amounts, total };
  return COST_NAMES.filter((name) => !(Math.abs(plan.cost[name] - counted[name]) <= TOLERANCE)).map(
    (name): BrokenRule => ({
      rule: "cost",
      sentence: `The plan says ${name} ${plan.cost[name]}, but its blocks come to ${counted[name]}.`,
    }),
  );
};

const COST_NAMES = [
  "lateDays",
  "idleCrewHours",
  "moves",
  "changes",
  "openNights",
  "overtimeCrewHours",
  "total",
] as const;

/** Reading 21; what ends at midnight ends with the day before. A house with nothing left to plan, or with an impossible task, has none. */
function listLateDays({ evidence }: Case): { job: Job; days: number }[] {
  return evidence.company.jobs.flatMap((job) => {
    const zone = zoneOfJob(evidence.company, job);
    const entries = evidence.entries.filter((entry) => entry.fact.job === job);
    const isStuck = job.tasks.some((task) => evidence.impossible.has(keyOf(job.id, task.id)));
    if (job.promised === null || isStuck || entries.length === 0) return [];
    const finished = job.tasks.flatMap((task) =>
      task.status === "done" && task.finishedAt !== null ? (parseInstant(task.finishedAt, zone) ?? []) : [],
    );
    const end = Math.max(...finished, ...entries.map((entry) => entry.end));
    return [{ job, days: Math.max(0, daysBetween(civilDate(job.promised), civilDateAt(end - 1, zone))) }];
  });
}

/** Reading 22: paid minutes of a crew-day and how many of them are idle. */
function paidMinutes({ evidence }: Case, day: CrewDay): { paid: number; idle: number } {
  const shift = ordinaryShift(evidence, day.crew, day.date);
  if (shift === null) return { paid: 0, idle: 0 };
  const lastBlock = Math.max(...day.blocks.map((block) => block.end));
  const end = day.crew.stretch.includes(day.date) ? Math.max(shift.end, lastBlock) : shift.end;
  const start = Math.max(shift.start, evidence.asOf);
  const pause = day.mealBreak === null ? 0 : minutesBetween([day.mealBreak], start, Math.max(start, end));
  const paid = Math.max(0, end - start) - pause;
  return { paid, idle: paid - minutesIn(day.blocks.filter((block) => block.kind !== "break")) };
}

/** Beyond the weekly hours of each crew, Monday to Sunday. */
function overtimeMinutes({ evidence }: Case, paid: readonly { day: CrewDay; paid: number }[]): number {
  const weeks = new Map<string, number>();
  for (const { day, paid: minutes } of paid) {
    const key = `${day.crew.id} ${mondayOf(day.date)}`;
    weeks.set(key, (weeks.get(key) ?? 0) + minutes);
  }
  const most = evidence.company.policy.weeklyHours * 60;
  return [...weeks.values()].reduce((sum, minutes) => sum + Math.max(0, minutes - most), 0);
}

/** Reading 23: going on to another house with something begun, and not finished, at the one that is left. */
function countMoves(files: Case): number {
  const strands = listStrands(files);
  return files.evidence.company.crews.reduce((sum, crew) => {
    const own = strands.filter((strand) => strand.crew === crew);
    const stays = files.days.filter((day) => day.crew === crew).flatMap((day) => day.stays);
    const inOrder = stays.filter((stay) => stay.work.length > 0).sort((a, b) => a.start - b.start);
    const moves = inOrder.filter((stay, index) => {
      const next = inOrder[index + 1];
      if (next === undefined || next.job === stay.job) return false;
      return own.some(
        (strand) => strand.facts[0]?.job === stay.job && strand.first < stay.end && strand.last > stay.end,
      );
    });
    return sum + moves.length;
  }, 0);
}

/** Reading 24: published tasks, from the as-of date on, whose crews and days of work are no longer the same. */
function countChanges(evidence: Evidence): number {
  const today = civilDateAt(evidence.asOf, evidence.zone);
  const published = new Map<string, Set<string>>();
  for (const work of listPublishedWork(evidence).filter((work) => work.date >= today)) {
    const fact = evidence.tasks.get(work.key);
    if (fact === undefined || fact.task.status === "done") continue;
    published.set(work.key, (published.get(work.key) ?? new Set()).add(`${work.crewId} ${work.date}`));
  }
  return [...published].filter(([key, then]) => {
    const now = new Set(workOf(evidence, key).map((block) => `${block.crew.id} ${dateOf(evidence, block)}`));
    return now.size !== then.size || [...now].some((pair) => !then.has(pair));
  }).length;
}

/** Reading 25: for each chain, the midnights at its house, after the plan begins, at which a unit of it is open. */
function countOpenNights({ evidence, chains }: Case): number {
  return chains.reduce((sum, work) => {
    const zone = zoneOfJob(evidence.company, work.chain.job);
    const nights = new Set<CivilDate>();
    for (let unit = 1; unit <= work.chain.units; unit += 1) {
      const span = openSpan(evidence, work, unit);
      if (span === null || span.end === Infinity) continue;
      const from = Math.max(span.start, evidence.asOf);
      for (
        let date = addDays(civilDateAt(from, zone), 1);
        dayStart(date, zone) < span.end;
        date = addDays(date, 1)
      )
        nights.add(date);
    }
    return sum + nights.size;
  }, 0);
}
