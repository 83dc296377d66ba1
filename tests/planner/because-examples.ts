/**
 * Small companies in each of which one constraint holds task `t1` back, and the same company with exactly that
 * constraint lifted. Around it stand constraints that are there but do not bind (a date and a delivery in the past,
 * wide access hours, a hold of another trade), and `NOT_BINDING` lifts them one by one.
 */
import type { CompanyInput } from "../../src/domain/company-schema.js";
import type { BecauseKind } from "../../src/domain/plan-format.js";
import { aCompany, aCrew, aJob, aTask, aWait } from "../support/company-builder.js";

export type Task = NonNullable<Parameters<typeof aTask>[0]>;
type Job = NonNullable<Parameters<typeof aJob>[0]>;
export interface Example {
  readonly kind: BecauseKind;
  readonly asOf?: string;
  readonly company: CompanyInput;
  readonly without: CompanyInput;
  readonly starts: string;
  readonly startsWithout: string;
  readonly says: string;
}

const SLACK_TASK: Task = { notBefore: "2026-11-01", needs: ["old"] };
const SLACK_JOB: Job = {
  access: ["05:00", "21:00"],
  deliveries: [{ id: "old", what: "Fasteners", expected: "2026-11-01" }],
};
const SLACK_HOLDS: CompanyInput["holds"] = [
  { id: "slack", from: "2026-12-01", to: "2027-04-01", trades: ["stone"], jobs: "all", why: "frost" },
];

/** One house with task `t1` and what else is given, with all that does not bind around it. */
export function house(
  task: Task,
  rest: Partial<CompanyInput> = {},
  job: Job = {},
  others: Task[] = [],
): CompanyInput {
  const tasks = [
    ...others.map((other) => (other.trade === null ? aWait(other) : aTask(other))),
    aTask({ ...SLACK_TASK, ...task }),
  ];
  return aCompany({
    ...rest,
    holds: [...(SLACK_HOLDS ?? []), ...(rest.holds ?? [])],
    jobs: [aJob({ ...SLACK_JOB, ...job, tasks }), ...(rest.jobs ?? [])],
  });
}

export const birch = aCrew({ id: "birch", name: "Birch" });
const longDays = aCrew({ week: { tue: ["06:00", "18:00"], wed: ["06:00", "18:00"] } });
const rain: CompanyInput["holds"] = [
  {
    id: "h1",
    from: "2027-03-16T00:00",
    to: "2027-03-17T12:00",
    trades: ["siding"],
    jobs: "all",
    why: "rain",
  },
];
const windows = { id: "d1", what: "Windows", expected: "2027-03-17" };
const delivered = (received: boolean): Job => ({
  deliveries: [...(SLACK_JOB.deliveries ?? []), { ...windows, received }],
});
const elm = (task: Task) => [
  aJob({ id: "elm-3", name: "3 Elm Street", tasks: [aTask({ id: "t0", title: "Trim the porch", ...task })] }),
];
const underWay: Task = { status: "under-way", doneBy: "alder", startedAt: "2027-03-15T13:00" };
const unit: Task = { trade: "tear-off", area: "front", laborHours: 3, opens: true };
const closing: Task = {
  id: "close",
  trade: "windows",
  area: "front",
  laborHours: 9,
  closes: true,
  after: [{ task: "t1" }],
};
const onLift: Task = { crew: "birch", equipment: { lift: 1 } };
const lifts = (count: number): Partial<CompanyInput> => ({
  crews: [aCrew(), birch],
  equipment: [{ id: "lift", name: "Boom lift", count }],
  jobs: elm({ crew: "alder", equipment: { lift: 1 }, laborHours: 24, ...underWay }),
});
const published: CompanyInput["published"] = [
  {
    crew: "alder",
    kind: "work",
    job: "spruce-14",
    task: "t1",
    start: "2027-03-17T07:20:00-04:00",
    end: "2027-03-17T09:20:00-04:00",
  },
];

export const EXAMPLES: readonly Example[] = [
  {
    kind: "crew-busy",
    company: house({}, { jobs: elm({ laborHours: 6, ...underWay }) }),
    without: house({}, {}),
    starts: "Tue 16 Mar 10:15",
    startsWithout: "Tue 16 Mar 07:20",
    says: 'Alder is at 3 Elm Street with "Trim the porch" until Tue 16 Mar, 9:20 am.',
  },
  {
    kind: "crew-off",
    company: house({}, { crews: [aCrew({ off: [{ from: "2027-03-16", to: "2027-03-16" }] })] }),
    without: house({}),
    starts: "Wed 17 Mar 07:20",
    startsWithout: "Tue 16 Mar 07:20",
    says: "Alder does not work before Wed 17 Mar, 7:00 am.",
  },
  {
    kind: "access",
    company: house({}, {}, { access: ["10:00", "18:00"] }),
    without: house({}, {}, { access: null }),
    starts: "Tue 16 Mar 10:20",
    startsWithout: "Tue 16 Mar 07:20",
    says: "14 Spruce Lane lets nobody in before Tue 16 Mar, 10:00 am.",
  },
  {
    kind: "no-light",
    asOf: "2026-12-08T00:00",
    company: house({}, { crews: [longDays] }),
    without: house({}, { crews: [longDays], policy: { firstLight: "civil-dawn" } }),
    starts: "Tue 8 Dec 07:22",
    startsWithout: "Tue 8 Dec 06:50",
    says: "No light to work by before Tue 8 Dec, 7:02 am.",
  },
  {
    kind: "hold",
    company: house({}, { holds: rain }),
    without: house({}),
    starts: "Wed 17 Mar 12:50",
    startsWithout: "Tue 16 Mar 07:20",
    says: "On hold (rain) until Wed 17 Mar, 12:00 pm.",
  },
  {
    kind: "after-task",
    company: house({ crew: "birch", after: [{ task: "t0" }] }, { crews: [aCrew(), birch] }, {}, [
      { id: "t0", crew: "alder" },
    ]),
    without: house({ crew: "birch" }, { crews: [aCrew(), birch] }, {}, [{ id: "t0", crew: "alder" }]),
    starts: "Tue 16 Mar 09:20",
    startsWithout: "Tue 16 Mar 07:20",
    says: 'Comes after "Side the front", done Tue 16 Mar, 9:20 am.',
  },
  {
    kind: "curing",
    company: house({ after: [{ task: "t0", lagHours: 24 }] }, {}, {}, [{ id: "t0" }]),
    without: house({ after: [{ task: "t0", lagHours: 0 }] }, {}, {}, [{ id: "t0" }]),
    starts: "Wed 17 Mar 09:20",
    startsWithout: "Tue 16 Mar 09:20",
    says: '"Side the front" must cure or dry until Wed 17 Mar, 9:20 am.',
  },
  {
    kind: "not-before",
    company: house({ notBefore: "2027-03-17T10:00" }),
    without: house({ notBefore: null }),
    starts: "Wed 17 Mar 10:00",
    startsWithout: "Tue 16 Mar 07:20",
    says: "Not before Wed 17 Mar, 10:00 am.",
  },
  {
    kind: "delivery",
    company: house({ needs: ["old", "d1"] }, {}, delivered(false)),
    without: house({ needs: ["old", "d1"] }, {}, delivered(true)),
    starts: "Thu 18 Mar 07:20",
    startsWithout: "Tue 16 Mar 07:20",
    says: "Waits for delivery: Windows, usable from Thu 18 Mar.",
  },
  {
    kind: "wait",
    company: house({ after: [{ task: "w1" }] }, {}, {}, [{ trade: null, waitBusinessDays: 1 }]),
    without: house({ after: [{ task: "w1" }] }, {}, {}, [{ trade: null, waitBusinessDays: 0 }]),
    starts: "Wed 17 Mar 07:20",
    startsWithout: "Tue 16 Mar 07:20",
    says: 'Waits for "Framing inspection" until the end of Tue 16 Mar.',
  },
  {
    kind: "close-by-dark",
    asOf: "2027-03-16T12:00",
    company: house(unit, {}, {}, [closing]),
    without: house(unit, { policy: { openNights: 1 } }, {}, [closing]),
    starts: "Wed 17 Mar 07:20",
    startsWithout: "Tue 16 Mar 12:50",
    says: "What is opened at 14 Spruce Lane could not be closed by dark any earlier.",
  },
  {
    kind: "equipment",
    company: house(onLift, lifts(1)),
    without: house(onLift, lifts(2)),
    starts: "Wed 17 Mar 08:10",
    startsWithout: "Tue 16 Mar 07:20",
    says: 'Boom lift is at 3 Elm Street for "Trim the porch" until Wed 17 Mar, 8:10 am.',
  },
  {
    kind: "published",
    company: house({}, { published }),
    without: house({}, { published: null }),
    starts: "Wed 17 Mar 07:20",
    startsWithout: "Tue 16 Mar 07:20",
    says: "Published for Wed 17 Mar; it stays there until somebody releases it.",
  },
];

/** The company with one of the constraints lifted that do not bind. */
export const NOT_BINDING: Readonly<
  Record<string, (company: CompanyInput, kind: BecauseKind) => CompanyInput>
> = {
  "the date in the past": (company, kind) =>
    kind === "not-before" ? company : withTask(company, { notBefore: null }),
  "the delivery in the past": (company) =>
    withJob(company, (job) => ({
      deliveries: (job.deliveries ?? []).map((one) => (one.id === "old" ? { ...one, received: true } : one)),
    })),
  "the access hours": (company, kind) =>
    kind === "access" ? company : withJob(company, () => ({ access: null })),
  "the other trade's hold": (company) => ({
    ...company,
    holds: (company.holds ?? []).filter((hold) => hold.id !== "slack"),
  }),
};

type JobInput = NonNullable<CompanyInput["jobs"]>[number];
export function withJob(company: CompanyInput, change: (job: JobInput) => Partial<JobInput>): CompanyInput {
  const jobs = (company.jobs ?? []).map((job) => (job.id === "spruce-14" ? { ...job, ...change(job) } : job));
  return { ...company, jobs };
}
export function withTask(company: CompanyInput, change: Task): CompanyInput {
  return withJob(company, (job) => ({
    tasks: (job.tasks ?? []).map((task) => (task.id === "t1" ? { ...task, ...change } : task)),
  }));
}
