/**
 * The shape of a company file (`daylap-company/1`) and the type that the rest of the house reads.
 * Shape and ranges only; what ties one part of the file to another is checked in cross-checks.ts.
 * Unknown fields are refused. Optional fields have their defaults here, so that nothing inside asks "is it there?".
 */
import { z } from "zod";
import { isZone, parseCivilDate, parseClockTime, parseInstant } from "./time.js";

/** Names that every JavaScript object has already (constructor, toString, …): records are looked up by id. */
const isReserved = (text: string): boolean => text in {};
const id = z
  .string()
  .regex(/^[A-Za-z0-9][A-Za-z0-9_.-]{0,63}$/, "must be 1 to 64 letters, digits, dots, dashes or underscores")
  .refine((text) => !isReserved(text), "is a reserved word (choose another id)");
/** No control characters but a tab or the end of a line, and no half of a character: nobody types those. */
const isPlainText = (text: string): boolean => !/[^\P{Cc}\t\n\r]|\p{Surrogate}/u.test(text);
const PLAIN = "must not contain control characters or halves of characters";
const words = z
  .string()
  .trim()
  .min(1, "must not be empty")
  .max(500, "must be at most 500 characters")
  .refine(isPlainText, PLAIN);
const remark = z.string().max(2000, "must be at most 2,000 characters").refine(isPlainText, PLAIN);

/** Years that a company file can speak of: beyond them is a slip of the finger, and calendars without end. */
const hasUsualYear = (text: string): boolean => text >= "2000" && text < "2100";
const date = z
  .string()
  .refine((text) => parseCivilDate(text) !== undefined, "is no date (write YYYY-MM-DD)")
  .refine(
    (text) => parseCivilDate(text) === undefined || hasUsualYear(text),
    "must be in the years 2000 to 2099",
  )
  .meta({ pattern: "^20\\d{2}-\\d{2}-\\d{2}$", description: "A calendar date, YYYY-MM-DD." });
const clock = z
  .string()
  .refine((text) => parseClockTime(text) !== undefined, "is no time of day (write HH:MM, 00:00 to 24:00)")
  .meta({ pattern: "^\\d{2}:\\d{2}$", description: "A time of day, HH:MM, from 00:00 to 24:00." });
const zone = z
  .string()
  .refine(isZone, "is no time zone that exists (write an IANA name such as America/New_York)")
  .meta({ description: "A time zone by its IANA name, such as America/New_York." });
const instant = z
  .string()
  .refine(
    (text) => parseInstant(text, "UTC") !== undefined,
    "is no time (write ISO 8601, such as 2027-03-17T13:00 or with an offset)",
  )
  .refine(
    (text) => parseInstant(text, "UTC") === undefined || hasUsualYear(text),
    "must be in the years 2000 to 2099",
  )
  .meta({
    pattern: "^20\\d{2}-\\d{2}-\\d{2}(T.+)?$",
    description: "ISO 8601. Without an offset it is wall time at the house; a bare date is its first moment.",
  });
const lat = z
  .number()
  .min(-90, "must be a latitude from -90 to 90")
  .max(90, "must be a latitude from -90 to 90");
const lon = z
  .number()
  .min(-180, "must be a longitude from -180 to 180")
  .max(180, "must be a longitude from -180 to 180");
const hoursPair = z.tuple([clock, clock]).meta({ description: "From and to, the earlier first." });
const minutes = (most: number) =>
  z
    .int("must be a whole number of minutes")
    .min(0, "must not be negative")
    .max(most, `must be at most ${most}`);
const money = z.number().min(0, "must not be negative").max(1_000_000, "must be at most 1,000,000");
const limit = (least: number, most: number) => {
  const message = `must be a number from ${least} to ${most}, or null for no limit`;
  return z.number(message).min(least, message).max(most, message).nullable().default(null);
};

/** The most labor-hours that one task may have: more is a typing mistake, or several tasks. */
export const MAX_LABOR_HOURS = 5_000;

export const policySchema = z
  .strictObject({
    lastLight: z.enum(["sunset", "civil-dusk"]).default("sunset"),
    firstLight: z.enum(["sunrise", "civil-dawn"]).default("sunrise"),
    lightMarginMinutes: minutes(240).default(15),
    breakMinutes: minutes(240).default(30),
    breakAfterHours: z.number().min(0, "must not be negative").max(24, "must be at most 24").default(5),
    travelMph: z.number().positive("must be more than 0").max(100, "must be at most 100").default(30),
    detour: z.number().min(1, "must be at least 1").max(5, "must be at most 5").default(1.3),
    travelFixedMinutes: minutes(240).default(5),
    coverUpMinutes: minutes(240).default(30),
    openNights: z
      .int("must be a whole number of nights")
      .min(0, "must not be negative")
      .max(14, "must be at most 14")
      .default(0),
    deliveryBufferDays: z
      .int("must be a whole number of days")
      .min(0, "must not be negative")
      .max(60, "must be at most 60")
      .default(1),
    freezeDays: z
      .int("must be a whole number of days")
      .min(0, "must not be negative")
      .max(60, "must be at most 60")
      .default(1),
    weeklyHours: z.number().min(0, "must not be negative").max(168, "must be at most 168").default(40),
    cost: z
      .strictObject({
        lateDay: money.default(300),
        idleCrewHour: money.default(40),
        move: money.default(60),
        change: money.default(50),
        openNight: money.default(500),
        overtimeCrewHour: money.default(90),
      })
      .prefault({}),
  })
  .prefault({});

const tradeSchema = z.strictObject({
  id,
  name: z.strictObject({ en: words, es: words }),
  stamp: z.string().regex(/^[A-Z]{2}$/, "must be two capital letters"),
  outdoor: z.boolean(),
  setupMinutes: minutes(480),
  cleanupMinutes: minutes(480),
  limits: z
    .strictObject({
      minF: limit(-100, 150),
      maxF: limit(-100, 150),
      gustMph: limit(0, 200),
      rainInchesPerHour: limit(0, 20),
      rainChancePct: limit(0, 100),
    })
    .prefault({}),
});

const weekSchema = z.strictObject({
  mon: hoursPair.optional(),
  tue: hoursPair.optional(),
  wed: hoursPair.optional(),
  thu: hoursPair.optional(),
  fri: hoursPair.optional(),
  sat: hoursPair.optional(),
  sun: hoursPair.optional(),
});

const crewSchema = z.strictObject({
  id,
  name: words,
  lead: words,
  size: z
    .int("must be a whole number of people")
    .min(1, "must be at least 1")
    .max(100, "must be at most 100"),
  trades: z.record(
    id,
    z.number().min(0.05, "must be a pace from 0.05 to 20").max(20, "must be a pace from 0.05 to 20"),
  ),
  week: weekSchema,
  startsAt: z.enum(["site", "yard"]).default("site"),
  off: z.array(z.strictObject({ from: date, to: date, why: remark.default("") })).default([]),
  extra: z.array(z.strictObject({ date, hours: hoursPair, why: remark.default("") })).default([]),
  stretch: z.array(date).default([]),
  kind: z.enum(["own", "sub"]).default("own"),
  language: z.enum(["en", "es"]).default("en"),
});

const equipmentSchema = z.strictObject({
  id,
  name: words,
  count: z.int("must be a whole number").min(0, "must not be negative").max(1000, "must be at most 1,000"),
});

const taskSchema = z.strictObject({
  id,
  trade: id.nullable(),
  title: words,
  area: words.nullable().default(null),
  laborHours: z
    .number()
    .min(0, "must not be negative")
    .max(MAX_LABOR_HOURS, "must be at most 5,000 labor-hours")
    .optional(),
  units: z
    .int("must be a whole number of units")
    .min(1, "must be at least 1")
    .max(500, "must be at most 500")
    .default(1),
  waitBusinessDays: z
    .int("must be a whole number of days")
    .min(0, "must not be negative")
    .max(250, "must be at most 250")
    .optional(),
  after: z
    .array(
      z.strictObject({
        task: id,
        lagHours: z.number().min(0, "must not be negative").max(8760, "must be at most 8,760").default(0),
      }),
    )
    .default([]),
  opens: z.boolean().default(false),
  closes: z.boolean().default(false),
  needs: z.array(id).default([]),
  equipment: z
    .record(
      id,
      z.int("must be a whole number").min(1, "must be at least 1").max(1000, "must be at most 1,000"),
    )
    .default({}),
  minCrew: z
    .int("must be a whole number of people")
    .min(1, "must be at least 1")
    .max(100, "must be at most 100")
    .default(1),
  crew: id.nullable().default(null),
  notBefore: instant.nullable().default(null),
  status: z.enum(["to-do", "under-way", "done"]).default("to-do"),
  leftHours: z
    .number()
    .min(0, "must not be negative")
    .max(MAX_LABOR_HOURS, "must be at most 5,000 labor-hours")
    .nullable()
    .default(null),
  startedAt: instant.nullable().default(null),
  finishedAt: instant.nullable().default(null),
  doneBy: id.nullable().default(null),
});

const jobSchema = z.strictObject({
  id,
  name: words,
  site: z.strictObject({ lat, lon, address: remark.default(""), timeZone: zone.optional() }),
  promised: date.nullable().default(null),
  weight: z.number().min(0, "must not be negative").max(1000, "must be at most 1,000").default(1),
  access: hoursPair.nullable().default(null),
  yearBuilt: z
    .int("must be a year")
    .min(1600, "must be a year from 1600")
    .max(2200, "must be a year up to 2200")
    .nullable()
    .default(null),
  deliveries: z
    .array(z.strictObject({ id, what: words, expected: date, received: z.boolean().default(false) }))
    .default([]),
  tasks: z.array(taskSchema).default([]),
});

const holdSchema = z.strictObject({
  id,
  from: instant,
  to: instant,
  trades: z.union(
    [z.enum(["outdoor", "all"]), z.array(id)],
    'must be "outdoor", "all" or a list of trade ids',
  ),
  jobs: z.union([z.literal("all"), z.array(id)], 'must be "all" or a list of job ids'),
  why: remark.default(""),
  source: z.enum(["hand", "forecast"]).default("hand"),
});

export const blockKinds = ["load", "travel", "setup", "work", "break", "cover-up", "cleanup"] as const;

/** One stretch of a crew's day. `job` is null only for a break or a load with no house to name; `task` and `units` are for work. */
export const blockSchema = z.strictObject({
  crew: id,
  kind: z.enum(blockKinds),
  job: id.nullable().default(null),
  task: id.nullable().default(null),
  units: z
    .tuple([z.int().min(1), z.int().min(1)])
    .nullable()
    .default(null),
  start: instant,
  end: instant,
});

/** A block of the last published plan; a person may have released it, and then it may move. */
export const publishedBlockSchema = blockSchema.extend({ released: z.boolean().default(false) });

export const COMPANY_FORMAT = "daylap-company/1";

export const companySchema = z.strictObject({
  format: z.literal(COMPANY_FORMAT),
  company: z.strictObject({
    name: words,
    timeZone: zone,
    yard: z.strictObject({ lat, lon }).nullable().default(null),
  }),
  policy: policySchema,
  trades: z.array(tradeSchema),
  crews: z.array(crewSchema),
  equipment: z.array(equipmentSchema).default([]),
  jobs: z.array(jobSchema).default([]),
  holds: z.array(holdSchema).default([]),
  published: z.array(publishedBlockSchema).nullable().default(null),
  office: z
    .record(z.string(), z.unknown())
    .optional()
    .meta({ description: "Of a backup: the record, the plans and the people. No part of the company." }),
});

/** Readonly all the way down; pairs stay pairs. */
type Readonly_<T> = T extends object ? { readonly [Key in keyof T]: Readonly_<T[Key]> } : T;

/** What a person or a program writes: defaults may be left out. */
export type CompanyInput = z.input<typeof companySchema>;
/** A company file that has passed every check, with all defaults filled in. */
export type Company = Readonly_<z.output<typeof companySchema>>;
export type Policy = Company["policy"];
export type Trade = Company["trades"][number];
export type Crew = Company["crews"][number];
export type Equipment = Company["equipment"][number];
export type Job = Company["jobs"][number];
export type Task = Job["tasks"][number];
export type Delivery = Job["deliveries"][number];
export type Hold = Company["holds"][number];
export type BlockKind = (typeof blockKinds)[number];
export type PublishedBlock = Readonly_<z.output<typeof publishedBlockSchema>>;

/** The zone whose calendar a house lives by: its own, or the company's. */
export function zoneOfJob(company: Company, job: Job): string {
  return job.site.timeZone ?? company.company.timeZone;
}

/** What people write in their own words, such as a reason: up to 2,000 characters, none of them a control character. */
export const remarkSchema = remark;
