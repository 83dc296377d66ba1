/**
 * A solution of the exact model written out as a Daylap plan, without the planner, for the checker to judge: if the
 * model meant something else than the rules do, its plan would break one, or cost something else. Reasons (`because`)
 * are not worked out: the checker does not read them.
 */
import { PLAN_FORMAT, type Plan, type PlanDay, type PlanTask } from "../../../src/domain/plan-format.js";
import { addDays, dayStart, toIso } from "../../../src/domain/time.js";
import { lightInHandMinutes, lightOn } from "../../../src/daylight/light.js";
import { listCrewBlocks, type Block } from "./crew-blocks.js";
import { DAY, type ExactProblem } from "./exact-problem.js";
import { countCost, endOf, type ExactSolution } from "./exact-solution.js";

const NO_REASON: PlanTask["because"] = {
  kind: "start-of-plan",
  text: { en: "No reason was looked for.", es: "No se buscó el motivo." },
  by: null,
  until: null,
};

export function planOfSolution(problem: ExactProblem, solution: ExactSolution): Plan {
  const { company, firstDate } = problem;
  const zone = company.company.timeZone;
  const midnight = dayStart(firstDate, zone);
  const iso = (minute: number): string => toIso(midnight + minute, zone);
  const blocks = company.crews.flatMap((_, crew) => listCrewBlocks(problem, solution, crew));
  const { lateDays, idleCrewHours, overtimeCrewHours, total } = countCost(problem, solution);
  return {
    format: PLAN_FORMAT,
    asOf: iso(0),
    seed: 0,
    iterations: 0,
    blocks: blocks.map(({ kind, crew, job, taskId, unit, start, end }) => ({
      crew: company.crews[crew]?.id ?? "",
      kind,
      job: company.jobs[job]?.id ?? null,
      task: taskId,
      units: unit === null ? null : [unit, unit],
      start: iso(start),
      end: iso(end),
    })),
    tasks: [...listWorked(problem, blocks, iso), ...listWaits(problem, solution, blocks, iso)],
    days: listDays(problem, blocks, iso),
    impossible: [],
    unkept: [],
    cost: { lateDays, idleCrewHours, moves: 0, changes: 0, openNights: 0, overtimeCrewHours, total },
  };
}

function workOf(blocks: readonly Block[], job: number, taskId: string): Block[] {
  return blocks.filter((block) => block.kind === "work" && block.job === job && block.taskId === taskId);
}

function listWorked(
  { company }: ExactProblem,
  blocks: readonly Block[],
  iso: (minute: number) => string,
): PlanTask[] {
  return company.jobs.flatMap((job, index) =>
    job.tasks.flatMap((task): PlanTask[] => {
      const work = workOf(blocks, index, task.id);
      if (task.trade === null) return [];
      return [
        {
          job: job.id,
          task: task.id,
          crew: company.crews[work[0]?.crew ?? -1]?.id ?? null,
          start: iso(Math.min(...work.map(({ start }) => start))),
          end: iso(Math.max(...work.map(({ end }) => end))),
          because: NO_REASON,
        },
      ];
    }),
  );
}

function listWaits(
  problem: ExactProblem,
  solution: ExactSolution,
  blocks: readonly Block[],
  iso: (minute: number) => string,
): PlanTask[] {
  return problem.waits.map(({ job, task, after, endDay }) => {
    const ends = task.after.flatMap((edge) => workOf(blocks, job, edge.task).map(({ end }) => end));
    const lastDay = Math.max(...after.map((before) => Math.floor(endOf(problem, solution, before) / DAY)));
    return {
      job: problem.company.jobs[job]?.id ?? "",
      task: task.id,
      crew: null,
      start: iso(Math.max(...ends)),
      end: iso(((endDay[lastDay] ?? 0) + 1) * DAY),
      because: NO_REASON,
    };
  });
}

/** One entry for each crew, date and house. */
function listDays(
  { company, firstDate, windows }: ExactProblem,
  blocks: readonly Block[],
  iso: (minute: number) => string,
): PlanDay[] {
  const lastWork = new Map<string, Block>();
  for (const block of blocks.filter(({ kind }) => kind === "work"))
    lastWork.set(`${block.crew}/${Math.floor(block.start / DAY)}/${block.job}`, block);
  const zone = company.company.timeZone;
  return [...lastWork.values()].flatMap(({ crew, job, start, end }): PlanDay[] => {
    const house = company.jobs[job];
    const day = Math.floor(start / DAY);
    const date = addDays(firstDate, day);
    if (!house) return [];
    const light = lightOn(house.site, date, zone, company.policy);
    const shiftEnd = dayStart(date, zone) + (windows.days[crew]?.[day]?.shiftEnd ?? 0);
    return [
      {
        crew: company.crews[crew]?.id ?? "",
        date,
        job: house.id,
        firstLight: light.first === null ? null : toIso(light.first, zone),
        lastLight: light.last === null ? null : toIso(light.last, zone),
        light: light.kind === "sun" ? "sun" : light.kind,
        toolsDown: iso(end),
        lightInHandMinutes: lightInHandMinutes(light, company.policy.lightMarginMinutes, shiftEnd),
        stretch: false,
      },
    ];
  });
}
