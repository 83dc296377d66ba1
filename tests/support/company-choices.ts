/**
 * The free choices behind a random company, as fast-check values that shrink towards a small plain company. They are
 * only numbers and flags: company-from-choices.ts turns any of them into a valid file.
 */
import * as fc from "fast-check";
import { civilDate, dayStart, WEEKDAYS } from "../../src/domain/time.js";

type Chosen<A> = A extends fc.Arbitrary<infer T> ? T : never;

/** A zone, a longitude that lies in it, and a zone nearby for houses over the border. */
export interface ZoneChoice {
  readonly zone: string;
  readonly lon: number;
  readonly nearby: string;
}

const ZONES: readonly ZoneChoice[] = [
  { zone: "America/New_York", lon: -70.3, nearby: "America/Halifax" },
  { zone: "America/St_Johns", lon: -52.7, nearby: "America/Halifax" },
  { zone: "America/Anchorage", lon: -149.9, nearby: "America/Whitehorse" },
  { zone: "America/Phoenix", lon: -112.1, nearby: "America/Denver" },
  { zone: "America/Santiago", lon: -70.6, nearby: "America/Argentina/Buenos_Aires" },
  { zone: "America/Sao_Paulo", lon: -46.6, nearby: "America/Manaus" },
  { zone: "Europe/London", lon: -0.1, nearby: "Europe/Berlin" },
  { zone: "Europe/Helsinki", lon: 24.9, nearby: "Europe/Stockholm" },
  { zone: "Africa/Johannesburg", lon: 28, nearby: "Africa/Cairo" },
  { zone: "Asia/Kolkata", lon: 77.2, nearby: "Asia/Kathmandu" },
  { zone: "Asia/Kathmandu", lon: 85.3, nearby: "Asia/Kolkata" },
  { zone: "Asia/Tokyo", lon: 139.7, nearby: "Asia/Vladivostok" },
  { zone: "Australia/Adelaide", lon: 138.6, nearby: "Australia/Sydney" },
  { zone: "Australia/Lord_Howe", lon: 159.1, nearby: "Australia/Sydney" },
  { zone: "Pacific/Auckland", lon: 174.8, nearby: "Pacific/Chatham" },
  { zone: "Pacific/Kiritimati", lon: -157.4, nearby: "Pacific/Honolulu" },
  { zone: "Etc/UTC", lon: 0, nearby: "Europe/London" },
];

const whole = (min: number, max: number) => fc.integer({ min, max });
/** True about once in `times`; shrinks to false. */
const seldom = (times: number) => whole(0, times - 1).map((n) => n === times - 1);
const maybe = <T>(value: fc.Arbitrary<T>, nil = 2) => fc.option(value, { freq: nil, nil: null });

const minuteOn = (date: string) => dayStart(civilDate(date), "UTC");
/** Any minute of three years, and now and then one in a week in which United States clocks change. */
const anyAsOf = fc.oneof(
  { weight: 6, arbitrary: whole(minuteOn("2026-01-01"), minuteOn("2029-01-01") - 1) },
  { weight: 1, arbitrary: whole(minuteOn("2027-03-08"), minuteOn("2027-03-15")) },
  { weight: 1, arbitrary: whole(minuteOn("2027-11-01"), minuteOn("2027-11-08")) },
);

const anyPolicy = fc.record({
  lastLight: fc.constantFrom("sunset" as const, "civil-dusk" as const),
  firstLight: fc.constantFrom("sunrise" as const, "civil-dawn" as const),
  lightMarginMinutes: fc.constantFrom(15, 0, 45),
  breakMinutes: fc.constantFrom(30, 0, 45),
  breakAfterHours: fc.constantFrom(5, 3.5, 4),
  travelFixedMinutes: fc.constantFrom(5, 0, 12),
  coverUpMinutes: fc.constantFrom(30, 0, 15),
  openNights: fc.constantFrom(0, 0, 0, 1, 2),
  deliveryBufferDays: whole(0, 2),
  freezeDays: whole(0, 3),
  weeklyHours: fc.constantFrom(40, 30),
});

const workdays = fc.oneof(
  { weight: 4, arbitrary: fc.constant(WEEKDAYS.slice(0, 5)) },
  { weight: 1, arbitrary: fc.subarray([...WEEKDAYS], { minLength: 2 }) },
);

const anyCrew = fc.record({
  size: whole(1, 5),
  isGeneralist: fc.boolean(),
  tradePicks: fc.array(fc.nat(20), { minLength: 1, maxLength: 5 }),
  pace: fc.constantFrom(1, 0.8, 1.25),
  days: workdays,
  startHalfHour: whole(11, 18),
  shiftHalfHours: whole(8, 20),
  startsAtYard: seldom(3),
  isSub: seldom(4),
  off: maybe(fc.record({ day: whole(0, 20), days: whole(1, 5) })),
  extraDay: maybe(whole(0, 14)),
  stretchDays: fc.array(whole(0, 10), { maxLength: 3 }),
});

const anyStep = fc.record({
  kind: fc.constantFrom("work" as const, "work" as const, "work" as const, "chain" as const, "wait" as const),
  tradePick: fc.nat(20),
  quarterHours: fc.oneof({ weight: 9, arbitrary: whole(2, 96) }, { weight: 1, arbitrary: fc.constant(0) }),
  units: whole(1, 4),
  chainLength: whole(2, 4),
  businessDays: whole(0, 3),
  afterPicks: fc.array(fc.nat(7), { maxLength: 2 }),
  lagHours: fc.constantFrom(0, 0, 0, 4, 24, 48),
  needsPick: maybe(fc.nat(1), 4),
  needsLift: seldom(4),
  minCrewPick: fc.oneof({ weight: 3, arbitrary: fc.constant(0) }, { weight: 1, arbitrary: whole(0, 4) }),
  crewPick: maybe(fc.nat(4), 4),
  isAnyCrewNamed: seldom(8),
  notBeforeDay: maybe(whole(-2, 12), 4),
});

const anyJob = fc.record({
  latOffset: whole(-30, 30),
  lonOffset: whole(-30, 30),
  isOverTheBorder: seldom(6),
  promisedDay: maybe(whole(-5, 40)),
  weight: fc.constantFrom(1, 1, 0, 2.5),
  access: maybe(fc.record({ from: whole(12, 18), to: whole(30, 42) })),
  deliveries: fc.array(fc.record({ day: whole(-3, 12), received: fc.boolean() }), { maxLength: 2 }),
  steps: fc.array(anyStep, { maxLength: 6 }),
  doneTasks: fc.oneof({ weight: 2, arbitrary: fc.constant(0) }, { weight: 1, arbitrary: whole(0, 6) }),
  isUnderWay: fc.boolean(),
  leftQuarterHours: maybe(whole(0, 60)),
  hoursAgo: whole(1, 20),
});

const anyHold = fc.record({
  day: whole(-1, 12),
  hour: whole(0, 23),
  hours: whole(3, 60),
  trades: fc.constantFrom("outdoor" as const, "all" as const, "some" as const),
  picks: fc.array(fc.nat(20), { minLength: 1, maxLength: 3 }),
  isOnAllJobs: fc.boolean(),
  hasOffset: fc.boolean(),
});

const anyPublishedBlock = fc.record({
  pick: fc.nat(60),
  crewPick: fc.nat(4),
  day: whole(0, 3),
  hour: whole(8, 15),
  isReleased: seldom(4),
});

/** Everything that is free in a random company. */
export const anyChoices = fc.record({
  asOf: anyAsOf,
  zone: fc.constantFrom(...ZONES),
  lat: whole(-496, 646).map((tenths) => tenths / 10),
  policy: anyPolicy,
  setupMinutes: fc.constantFrom(20, 0, 10),
  cleanupMinutes: fc.constantFrom(30, 0, 15),
  lifts: whole(1, 2),
  crews: fc.array(anyCrew, { minLength: 1, maxLength: 5 }),
  jobs: fc.array(anyJob, { minLength: 1, maxLength: 6 }),
  holds: fc.array(anyHold, { maxLength: 3 }),
  published: maybe(fc.array(anyPublishedBlock, { maxLength: 6 }), 2),
});

export type CompanyChoices = Chosen<typeof anyChoices>;
export type CrewChoice = CompanyChoices["crews"][number];
export type JobChoice = CompanyChoices["jobs"][number];
export type StepChoice = JobChoice["steps"][number];
