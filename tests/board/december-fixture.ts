/**
 * A small invented company on the coast of southern Maine and a plan for 8 and 9 December 2026, written by hand, so that
 * the views can be read against known words and times. Both pass their schemas. The plan is not the planner's.
 */
import { companySchema, type Company, type CompanyInput } from "../../src/domain/company-schema.js";
import { planSchema, type Because, type Plan } from "../../src/domain/plan-format.js";
import { aCompany, aCrew, aJob, aTask, aWait } from "../support/company-builder.js";

const OPENINGS = { reframe: 1, windows: 1, "tear-off": 1, wrb: 1 };
const SIDING = { siding: 1, wrb: 0.9, trim: 1 };

export const COMPANY_INPUT: CompanyInput = aCompany({
  crews: [
    aCrew({ id: "alder", name: "Alder", lead: "Noor", size: 3, trades: SIDING, startsAt: "yard" }),
    aCrew({ id: "birch", name: "Birch", lead: "Mateo", size: 4, trades: OPENINGS }),
    aCrew({ id: "cedar", name: "Cedar", lead: "Imani", size: 2, trades: { stone: 1, caulk: 1, trim: 0.9 } }),
    aCrew({ id: "dune", name: "Dune", lead: "Petra", size: 3, trades: { siding: 1.1 }, kind: "sub" }),
    aCrew({
      id: "elm",
      name: "Elm",
      lead: "Sol",
      trades: { siding: 1 },
      off: [{ from: "2026-12-07", to: "2026-12-08", why: "training" }],
    }),
  ],
  equipment: [{ id: "lift", name: "Boom lift", count: 1 }],
  jobs: [
    aJob({
      id: "tern-14",
      name: "14 Tern Lane",
      site: { lat: 43.63, lon: -70.28, address: "14 Tern Lane, invented" },
      promised: "2026-12-08",
      yearBuilt: 1968,
      tasks: [
        aTask({
          id: "wrap",
          trade: "wrb",
          title: "Wrap the left side",
          status: "done",
          doneBy: "birch",
          startedAt: "2026-12-04T08:00",
          finishedAt: "2026-12-04T12:00",
        }),
        aTask({
          id: "side",
          trade: "siding",
          title: "Siding",
          area: "left side",
          laborHours: 20,
          units: 4,
          after: [{ task: "wrap" }],
          equipment: { lift: 1 },
        }),
        aTask({
          id: "caulk",
          trade: "caulk",
          title: "Caulk the left side",
          laborHours: 4,
          after: [{ task: "side" }],
        }),
      ],
    }),
    aJob({
      id: "gull-3",
      name: "3 Gull Street",
      site: { lat: 43.55, lon: -70.35 },
      promised: "2026-12-11",
      deliveries: [{ id: "glass", what: "Three windows", expected: "2026-12-05", received: true }],
      tasks: [
        aTask({
          id: "open",
          trade: "reframe",
          title: "Reframe",
          area: "front",
          laborHours: 14,
          units: 3,
          opens: true,
        }),
        aTask({
          id: "set",
          trade: "windows",
          title: "Set windows",
          area: "front",
          laborHours: 14,
          units: 3,
          closes: true,
          needs: ["glass"],
          after: [{ task: "open" }],
        }),
        aWait({ id: "inspect", title: "Framing inspection", after: [{ task: "set" }] }),
        aTask({
          id: "blocks",
          trade: "trim",
          title: "Mount blocks",
          laborHours: 4,
          after: [{ task: "set" }],
        }),
      ],
    }),
    aJob({
      id: "wharf-27",
      name: "27 Wharf Road",
      site: { lat: 43.6, lon: -70.3 },
      tasks: [
        aTask({
          id: "scratch",
          trade: "stone",
          title: "Scratch coat",
          laborHours: 7,
          status: "under-way",
          doneBy: "cedar",
          startedAt: "2026-12-07T13:00",
          leftHours: 6,
        }),
        aTask({
          id: "set",
          trade: "stone",
          title: "Set stone",
          laborHours: 8,
          after: [{ task: "scratch", lagHours: 24 }],
        }),
      ],
    }),
    aJob({
      id: "pilot-5",
      name: "5 Pilot Way",
      tasks: [aTask({ id: "gutters", trade: "siding", title: "Side the dormer", minCrew: 3, laborHours: 9 })],
    }),
  ],
  holds: [
    {
      id: "wet",
      from: "2026-12-09T00:00",
      to: "2026-12-10T00:00",
      trades: "outdoor",
      jobs: "all",
      why: "rain all day",
    },
    {
      id: "gusts",
      from: "2026-12-08T13:00",
      to: "2026-12-08T16:00",
      trades: ["stone"],
      jobs: ["wharf-27"],
      why: "gusts to 38 mph",
    },
  ],
});

/** The company of the fixture, with an override of whole top-level parts. */
export function decemberCompany(overrides: Partial<CompanyInput> = {}): Company {
  return companySchema.parse({ ...COMPANY_INPUT, ...overrides });
}

const at = (date: string, clock: string): string => `2026-12-${date}T${clock}:00-05:00`;
type Block = Plan["blocks"][number];
const block = (
  crew: string,
  kind: Block["kind"],
  job: string | null,
  from: string,
  to: string,
  task: string | null = null,
  units: [number, number] | null = null,
  date = "08",
): Block => ({ crew, kind, job, task, units, start: at(date, from), end: at(date, to) });
const because = (
  kind: Because["kind"],
  en: string,
  es: string,
  by: Because["by"] = null,
  until: string | null = null,
) => ({
  kind,
  text: { en, es },
  by,
  until,
});
const day = (
  crew: string,
  job: string,
  toolsDown: string | null,
  lightInHandMinutes: number,
  date = "08",
) => ({
  crew,
  date: `2026-12-${date}`,
  job,
  firstLight: at(date, "07:01"),
  lastLight: at(date, "16:04"),
  light: "sun" as const,
  toolsDown: toolsDown === null ? null : at(date, toolsDown),
  lightInHandMinutes,
  stretch: false,
});

/** The plan of the fixture, with an override of whole top-level parts. */
export function decemberPlan(overrides: Partial<Plan> = {}): Plan {
  return planSchema.parse({
    format: "daylap-plan/1",
    asOf: at("07", "15:10"),
    seed: 1,
    iterations: 0,
    blocks: [
      block("alder", "load", "tern-14", "07:00", "07:15"),
      block("alder", "travel", "tern-14", "07:15", "07:26"),
      block("alder", "setup", "tern-14", "07:26", "07:46"),
      block("alder", "work", "tern-14", "07:46", "12:00", "side", [1, 2]),
      block("alder", "break", "tern-14", "12:00", "12:30"),
      block("alder", "work", "tern-14", "12:30", "13:30", "side", [3, 3]),
      block("alder", "work", "tern-14", "13:30", "14:36", "side", [4, 4]),
      block("alder", "cleanup", "tern-14", "14:36", "15:06"),
      block("alder", "travel", null, "15:06", "15:17"),
      block("birch", "setup", "gull-3", "07:10", "07:30"),
      block("birch", "work", "gull-3", "07:30", "08:40", "open", [1, 1]),
      block("birch", "work", "gull-3", "08:40", "09:50", "set", [1, 1]),
      block("birch", "work", "gull-3", "09:50", "11:00", "open", [2, 2]),
      block("birch", "work", "gull-3", "11:00", "12:00", "set", [2, 2]),
      block("birch", "break", "gull-3", "12:00", "12:30"),
      block("birch", "work", "gull-3", "12:30", "12:40", "set", [2, 2]),
      block("birch", "work", "gull-3", "12:40", "13:50", "open", [3, 3]),
      block("birch", "work", "gull-3", "13:50", "15:00", "set", [3, 3]),
      block("birch", "cleanup", "gull-3", "15:00", "15:30"),
      block("cedar", "setup", "wharf-27", "07:30", "07:50"),
      block("cedar", "work", "wharf-27", "07:50", "10:50", "scratch", [1, 1]),
      block("cedar", "cleanup", "wharf-27", "10:50", "11:20"),
      block("cedar", "travel", "tern-14", "11:20", "11:33"),
      block("cedar", "break", "tern-14", "12:00", "12:30"),
      block("cedar", "setup", "tern-14", "14:36", "14:56"),
      block("cedar", "work", "tern-14", "14:56", "15:19", "caulk", [1, 1]),
      block("cedar", "cleanup", "tern-14", "15:19", "15:49"),
      block("cedar", "setup", "wharf-27", "10:50", "11:10", null, null, "10"),
      block("cedar", "work", "wharf-27", "11:10", "15:10", "set", [1, 1], "10"),
      block("cedar", "cleanup", "wharf-27", "15:10", "15:40", null, null, "10"),
    ],
    tasks: [
      {
        job: "tern-14",
        task: "side",
        crew: "alder",
        start: at("08", "07:46"),
        end: at("08", "14:36"),
        because: because(
          "no-light",
          "no light before 7:01",
          "no hay luz antes de las 7:01",
          null,
          at("08", "07:01"),
        ),
      },
      {
        job: "tern-14",
        task: "caulk",
        crew: "cedar",
        start: at("08", "14:56"),
        end: at("08", "15:19"),
        because: because("after-task", "waits for Siding", "espera el revestimiento", {
          job: "tern-14",
          task: "side",
        }),
      },
      {
        job: "gull-3",
        task: "open",
        crew: "birch",
        start: at("08", "07:30"),
        end: at("08", "13:50"),
        because: because("crew-off", "the shift starts at 7:00", "el turno empieza a las 7:00"),
      },
      {
        job: "gull-3",
        task: "set",
        crew: "birch",
        start: at("08", "08:40"),
        end: at("08", "15:00"),
        because: because("after-task", "waits for Reframe", "espera el reenmarcado", {
          job: "gull-3",
          task: "open",
        }),
      },
      {
        job: "gull-3",
        task: "inspect",
        crew: null,
        start: at("08", "15:00"),
        end: at("10", "00:00"),
        because: because("after-task", "waits for Set windows", "espera las ventanas", {
          job: "gull-3",
          task: "set",
        }),
      },
      {
        job: "gull-3",
        task: "blocks",
        crew: "cedar",
        start: at("11", "07:30"),
        end: at("11", "09:30"),
        because: because(
          "crew-busy",
          "Cedar is at 27 Wharf Road until Thursday",
          "Cedar está en 27 Wharf Road hasta el jueves",
          { job: "wharf-27", task: "set" },
          at("10", "15:10"),
        ),
      },
      {
        job: "wharf-27",
        task: "scratch",
        crew: "cedar",
        start: at("08", "07:50"),
        end: at("08", "10:50"),
        because: because("start-of-plan", "goes on from yesterday", "sigue desde ayer"),
      },
      {
        job: "wharf-27",
        task: "set",
        crew: "cedar",
        start: at("10", "11:10"),
        end: at("10", "15:10"),
        because: because(
          "curing",
          "the scratch coat cures until 10:50",
          "la capa base fragua hasta las 10:50",
          { job: "wharf-27", task: "scratch" },
          at("10", "10:50"),
        ),
      },
    ],
    days: [
      day("alder", "tern-14", "14:50", 19),
      day("birch", "gull-3", "15:00", 19),
      day("cedar", "wharf-27", "15:00", 19),
      day("cedar", "tern-14", "15:19", -11),
      day("cedar", "wharf-27", "15:00", 19, "10"),
    ],
    impossible: [
      { job: "pilot-5", task: "gutters", why: "No crew with siding is free before the plan ends." },
    ],
    unkept: [
      {
        job: "gull-3",
        task: "blocks",
        crew: "cedar",
        date: "2026-12-08",
        why: "The windows are not set before 3:00.",
      },
    ],
    cost: {
      lateDays: 0,
      idleCrewHours: 5.5,
      moves: 1,
      changes: 2,
      openNights: 0,
      overtimeCrewHours: 0,
      total: 380,
    },
    ...overrides,
  });
}
