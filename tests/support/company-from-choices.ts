/**
 * A valid company file from any choices, by construction: order goes forward only, each trade in use has a crew, a
 * needed crew size is reached, equipment is within its count, and work done or under way has all that it follows done
 * (and delivered) long enough ago. At most one task is under way with a crew.
 */
import type { CompanyInput } from "../../src/domain/company-schema.js";
import { addDays, civilDateAt, minuteAt, toIso, type CivilDate } from "../../src/domain/time.js";
import { present } from "../../src/domain/result.js";
import { aCompany, aCrew, aJob, TRADES } from "./company-builder.js";
import type { CompanyChoices, CrewChoice } from "./company-choices.js";
import { listTasks, type TaskInput } from "./tasks-from-choices.js";

type CrewInput = CompanyInput["crews"][number];
type JobInput = NonNullable<CompanyInput["jobs"]>[number];

const CHAIN_TRADES = ["tear-off", "sheathing", "wrb", "windows"];

export function companyFrom(choices: CompanyChoices): CompanyInput {
  const { zone } = choices.zone;
  const today = civilDateAt(choices.asOf, zone);
  const crews = choices.crews.map((choice, index) => crewFrom(choice, index, today));
  const jobs = jobsFrom(choices, crews, today);
  const ids = jobs.map((job) => job.id);
  return aCompany({
    company: {
      name: "Tern Rock Exteriors",
      timeZone: zone,
      yard: { lat: choices.lat, lon: choices.zone.lon },
    },
    policy: choices.policy,
    trades: TRADES.map((trade) =>
      trade.outdoor
        ? { ...trade, setupMinutes: choices.setupMinutes, cleanupMinutes: choices.cleanupMinutes }
        : trade,
    ),
    crews,
    equipment: [{ id: "lift", name: "Boom lift", count: choices.lifts }],
    jobs,
    holds: choices.holds.map((hold, index) => {
      const start = choices.asOf + hold.day * 1440 + hold.hour * 60;
      const write = (minute: number) =>
        hold.hasOffset ? toIso(minute, zone) : toIso(minute, "UTC").slice(0, 16);
      return {
        id: `h${index + 1}`,
        from: write(start),
        to: write(start + hold.hours * 60),
        trades: hold.trades === "some" ? hold.picks.map((pick) => picked(TRADES, pick).id) : hold.trades,
        jobs: hold.isOnAllJobs ? "all" : hold.picks.map((pick) => picked(ids, pick)),
        why: "rain",
      };
    }),
    published: publishedFrom(choices, crews, jobs),
  });
}

/** The item that a number stands for, whatever the length of the list. */
export function picked<T>(list: readonly T[], pick: number): T {
  return present(list[pick % list.length], "an item of a list that is not empty");
}

function crewFrom(choice: CrewChoice, index: number, today: CivilDate): CrewInput {
  const shift: [string, string] = [
    halfHour(choice.startHalfHour),
    halfHour(choice.startHalfHour + choice.shiftHalfHours),
  ];
  const trades = choice.tradePicks.map((pick) => picked(TRADES, pick).id);
  const { off, extraDay } = choice;
  return aCrew({
    id: `c${index + 1}`,
    name: `Crew ${index + 1}`,
    size: choice.size,
    trades: Object.fromEntries(
      [...trades, ...(choice.isGeneralist ? CHAIN_TRADES : [])].map((trade) => [trade, choice.pace]),
    ),
    week: Object.fromEntries(choice.days.map((day) => [day, shift])),
    startsAt: choice.startsAtYard ? "yard" : "site",
    kind: choice.isSub ? "sub" : "own",
    off: off === null ? [] : [{ from: addDays(today, off.day), to: addDays(today, off.day + off.days - 1) }],
    extra: extraDay === null ? [] : [{ date: addDays(today, extraDay), hours: ["07:00", "13:00"] }],
    stretch: [...new Set(choice.stretchDays)].map((day) => addDays(today, day)),
  });
}

function jobsFrom(choices: CompanyChoices, crews: readonly CrewInput[], today: CivilDate): JobInput[] {
  const { zone } = choices;
  // Whoever has work under way; a crew can be in the middle of only one task.
  const busy = new Set<string>();
  const liftsLeft = { count: choices.lifts };
  return choices.jobs.map((choice, index) => {
    const { tasks, delivered } = listTasks(choice, { choices, crews, today, busy, liftsLeft });
    return aJob({
      id: `j${index + 1}`,
      name: `House ${index + 1}`,
      site: {
        lat: choices.lat + choice.latOffset / 100,
        lon: zone.lon + choice.lonOffset / 100,
        ...(choice.isOverTheBorder ? { timeZone: zone.nearby } : {}),
      },
      promised: choice.promisedDay === null ? null : addDays(today, choice.promisedDay),
      weight: choice.weight,
      access: choice.access === null ? null : [halfHour(choice.access.from), halfHour(choice.access.to)],
      deliveries: choice.deliveries.map((delivery, nth) => ({
        id: `d${nth + 1}`,
        what: "Windows",
        expected: addDays(today, delivery.day),
        received: delivery.received || delivered.has(`d${nth + 1}`),
      })),
      tasks,
    });
  });
}

/** Blocks of work on open tasks, each task with one crew that has its trade, no two of a crew at one time. */
function publishedFrom(
  { published, asOf, zone }: CompanyChoices,
  crews: readonly CrewInput[],
  jobs: readonly JobInput[],
): CompanyInput["published"] {
  if (published === null) return null;
  const open = jobs.flatMap((job) =>
    (job.tasks ?? [])
      .filter((task) => task.status !== "done" && task.trade !== null)
      .map((task) => ({ job, task })),
  );
  if (open.length === 0) return [];
  const today = civilDateAt(asOf, zone.zone);
  const taken = new Set<string>();
  const crewOf = new Map<TaskInput, string>();
  return published.flatMap((block) => {
    const { job, task } = picked(open, block.pick);
    const able = crews.filter((crew) => task.trade !== null && task.trade in crew.trades);
    const crew = crewOf.get(task) ?? task.doneBy ?? picked(able, block.crewPick).id;
    crewOf.set(task, crew);
    const slot = `${crew} ${block.day} ${block.hour}`;
    if (taken.has(slot)) return [];
    taken.add(slot);
    const start = minuteAt(addDays(today, block.day), halfHour(block.hour * 2), zone.zone);
    return [
      {
        crew,
        kind: "work" as const,
        job: job.id,
        task: task.id,
        start: toIso(start, zone.zone),
        end: toIso(start + 60, zone.zone),
        released: block.isReleased,
      },
    ];
  });
}

function halfHour(index: number): string {
  const clamped = Math.min(index, 48);
  return `${String(Math.floor(clamped / 2)).padStart(2, "0")}:${clamped % 2 === 0 ? "00" : "30"}`;
}
