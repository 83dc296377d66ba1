/**
 * Four ways of replanning 2,500 tasks that have been published: a hold added, a crew out, a delivery moved, hours added
 * to a task. Each is planned and explained as a whole, as the ways out of a slip have to be.
 */
import type { CompanyInput } from "../../../src/domain/company-schema.js";
import { PlanSearch } from "../../../src/planner/plan.js";
import { listPlanFaults, timed, type Measured } from "./measure.js";
import { AS_OF, COMPANY_TASKS, sizedInput, toCompany } from "./sized-company.js";

type JobInput = NonNullable<CompanyInput["jobs"]>[number];

const OPTIONS = { asOf: AS_OF, seed: 1, iterations: 1 };

export function measureReplanning(): Measured {
  const base = withDeliveries(sizedInput(COMPANY_TASKS, 1));
  const published = new PlanSearch(toCompany(base), OPTIONS).toPlan().blocks;
  // Warm-up: each change on another company.
  const warm = withDeliveries(sizedInput(COMPANY_TASKS, 2));
  for (const { apply } of CHANGES) new PlanSearch(toCompany(apply(warm)), OPTIONS).toPlan();

  const runs = CHANGES.map(({ what, apply }) => {
    const company = toCompany(apply({ ...base, published: [...published] }));
    const search = timed(() => new PlanSearch(company, OPTIONS));
    const plan = timed(() => search.made.toPlan());
    return { what, company, search, plan };
  });
  const planning = runs.reduce((sum, { search }) => sum + search.milliseconds, 0);
  const explaining = runs.reduce((sum, { plan }) => sum + plan.milliseconds, 0);
  const each = runs.map(({ what, search, plan }) => {
    const changes = plan.made.cost.changes;
    return `${what} ${(search.milliseconds + plan.milliseconds).toFixed(0)} ms, ${changes} changes`;
  });
  return {
    value: planning + explaining,
    more: `planning ${planning.toFixed(0)}, explaining ${explaining.toFixed(0)}; ${each.join("; ")}`,
    faults: runs.flatMap(({ what, company, plan }) =>
      listPlanFaults(company, plan.made).map((fault) => `${what}: ${fault}`),
    ),
  };
}

const CHANGES: readonly { readonly what: string; readonly apply: (input: CompanyInput) => CompanyInput }[] = [
  {
    what: "hold",
    apply: (input) => ({
      ...input,
      holds: [
        {
          id: "h1",
          from: "2027-01-06T00:00",
          to: "2027-01-07T00:00",
          trades: "outdoor",
          jobs: "all",
          why: "rain",
          source: "hand",
        },
      ],
    }),
  },
  {
    what: "crew out",
    apply: (input) => ({
      ...input,
      crews: input.crews.map((crew, index) =>
        index === 0 ? { ...crew, off: [{ from: "2027-01-06", to: "2027-01-12", why: "ill" }] } : crew,
      ),
    }),
  },
  {
    what: "delivery",
    apply: (input) => onFirstJob(input, (job) => ({ ...job, deliveries: [expected("2027-01-20")] })),
  },
  {
    what: "hours",
    apply: (input) =>
      onFirstJob(input, (job) => ({
        ...job,
        tasks: (job.tasks ?? []).map((task, index) =>
          index === 0 ? { ...task, laborHours: (task.laborHours ?? 0) * 2 } : task,
        ),
      })),
  },
];

function expected(date: string) {
  return { id: "d1", what: "windows", expected: date, received: false };
}

/** The first house waits for its windows, due at once. */
function withDeliveries(input: CompanyInput): CompanyInput {
  return onFirstJob(input, (job) => ({
    ...job,
    deliveries: [expected("2027-01-04")],
    tasks: (job.tasks ?? []).map((task) => (task.trade === "windows" ? { ...task, needs: ["d1"] } : task)),
  }));
}

function onFirstJob(input: CompanyInput, change: (job: JobInput) => JobInput): CompanyInput {
  return { ...input, jobs: (input.jobs ?? []).map((job, index) => (index === 0 ? change(job) : job)) };
}
