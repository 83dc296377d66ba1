/**
 * All ways out of a slip, every permission given: of 2,500 published tasks, and of the demo company. Each slip is of
 * another company, so that nothing kept from one helps with the next. Ways are compared without reasons; what it takes to
 * explain one is told beside it, and all of the first slip are explained and checked.
 */
import { readFileSync } from "node:fs";
import type { Company, CompanyInput } from "../../../src/domain/company-schema.js";
import type { Plan } from "../../../src/domain/plan-format.js";
import { addDays, civilDate, civilDateAt, minuteAt, type Minute } from "../../../src/domain/time.js";
import { planCompany, PlanSearch } from "../../../src/planner/plan.js";
import { listDatesAhead, listSaturdaysAhead, listWaysOut } from "../../../src/planner/ways-out.js";
import type { WayOut } from "../../../src/planner/ways-out/way-out.js";
import { layDemo } from "../../../src/services/demo.js";
import { seedFile } from "../places.js";
import { listPlanFaults, medianOf, timed, type Measured } from "./measure.js";
import { AS_OF, COMPANY_TASKS, sizedInput, toCompany } from "./sized-company.js";

type JobInput = NonNullable<CompanyInput["jobs"]>[number];

const WARM_UPS = 3;
const ROUNDS = 8;
const DEMO_ROUNDS = 12;

/** What happens to a company on the first day of its plan. */
const SLIPS: readonly {
  readonly what: string;
  readonly apply: (input: CompanyInput, asOf: Minute) => CompanyInput;
}[] = [
  {
    what: "crew out",
    apply: (input, asOf) => ({
      ...input,
      crews: input.crews.map((crew, index) =>
        index === 0
          ? {
              ...crew,
              off: [...(crew.off ?? []), { from: dateAhead(asOf, 1), to: dateAhead(asOf, 5), why: "ill" }],
            }
          : crew,
      ),
    }),
  },
  {
    what: "hold",
    apply: (input, asOf) => ({
      ...input,
      holds: [
        ...(input.holds ?? []),
        {
          id: "slip",
          from: `${dateAhead(asOf, 2)}T00:00`,
          to: `${dateAhead(asOf, 3)}T00:00`,
          trades: "outdoor",
          jobs: "all",
          why: "rain",
          source: "hand",
        },
      ],
    }),
  },
  {
    what: "hours",
    apply: (input) =>
      onFirstOpen(input, (task) => ({
        ...task,
        laborHours: (task.laborHours ?? 0) + 16,
        ...(typeof task.leftHours === "number" && { leftHours: task.leftHours + 16 }),
      })),
  },
  {
    what: "promise",
    apply: (input, asOf) => ({
      ...input,
      jobs: (input.jobs ?? []).map((job, index) =>
        index === 1 ? { ...job, promised: dateAhead(asOf, 7) } : job,
      ),
    }),
  },
];

export function measureWaysOut(): readonly Measured[] {
  return [measureLarge(), measureDemo()];
}

interface Round {
  readonly what: string;
  readonly company: Company;
  readonly ways: readonly WayOut[];
  readonly milliseconds: number;
}

function measureLarge(): Measured {
  const rounds: Round[] = [];
  for (let round = -WARM_UPS; round < ROUNDS; round++) {
    const input = sizedInput(COMPANY_TASKS, 100 + round);
    const standing = new PlanSearch(toCompany(input), { asOf: AS_OF, seed: 1, iterations: 1 }).toPlan();
    const found = slipOnce(input, standing, AS_OF, round + WARM_UPS);
    if (round >= 0) rounds.push(found);
  }
  return toMeasured(rounds);
}

function measureDemo(): Measured {
  const date = civilDate("2026-12-07");
  const zone = "America/New_York";
  const asOf = minuteAt(date, "18:00", zone);
  // Proof of the cast: what is laid is checked as a company file before anything else is done with it.
  const input = layDemo(
    { timeZone: zone, source: JSON.parse(readFileSync(seedFile(), "utf8")) as unknown },
    date,
  ) as CompanyInput;
  const standing = planCompany(toCompany(input), { asOf, seed: 1, iterations: 500 });
  const rounds: Round[] = [];
  for (let round = -WARM_UPS; round < DEMO_ROUNDS; round++) {
    const found = slipOnce(input, standing, asOf, round + WARM_UPS);
    if (round >= 0) rounds.push(found);
  }
  return toMeasured(rounds);
}

function slipOnce(input: CompanyInput, standing: Plan, asOf: Minute, round: number): Round {
  const slip = SLIPS[round % SLIPS.length];
  if (slip === undefined) throw new Error("there is a slip for every round");
  const company = toCompany(slip.apply({ ...input, published: standing.blocks }, asOf));
  const permissions = {
    resequence: true,
    lend: true,
    stretch: listDatesAhead(company, asOf, 7),
    saturday: listSaturdaysAhead(company, asOf, 2),
  };
  const { made, milliseconds } = timed(() => listWaysOut(company, { asOf, seed: 1, standing, permissions }));
  return { what: slip.what, company, ways: made, milliseconds };
}

function toMeasured(rounds: readonly Round[]): Measured {
  const times = rounds.map(({ milliseconds }) => milliseconds);
  const [first] = rounds;
  const explained = (first?.ways ?? []).map((way) => ({ way, ...timed(() => way.explain()) }));
  return {
    value: medianOf(times),
    more:
      `median of ${rounds.length}, ${Math.min(...times).toFixed(0)} to ${Math.max(...times).toFixed(0)}; ` +
      `ways ${rounds.map(({ what, ways }) => `${what} ${ways.length}`).join(", ")}; ` +
      `explaining one takes ${medianOf(explained.map(({ milliseconds }) => milliseconds)).toFixed(0)} more`,
    faults: explained.flatMap(({ way, made }) =>
      listPlanFaults(way.company, made).map((fault) => `${first?.what ?? ""}, ${way.key}: ${fault}`),
    ),
  };
}

function dateAhead(asOf: Minute, days: number): string {
  return addDays(civilDateAt(asOf, "America/New_York"), days);
}

/** Changes the first task of all that is open and worked by a crew. */
function onFirstOpen(
  input: CompanyInput,
  change: (task: NonNullable<JobInput["tasks"]>[number]) => NonNullable<JobInput["tasks"]>[number],
): CompanyInput {
  let isDone = false;
  const jobs = (input.jobs ?? []).map((job) => ({
    ...job,
    tasks: (job.tasks ?? []).map((task) => {
      if (isDone || task.status === "done" || task.trade === null) return task;
      isDone = true;
      return change(task);
    }),
  }));
  return { ...input, jobs };
}
