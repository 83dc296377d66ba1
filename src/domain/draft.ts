/**
 * What can be read of a file that may have faults: every part that has the right shape, with its defaults, and
 * `UNREADABLE` in the place of each part that has not. So the cross-checks run on the sound parts of a broken file.
 */
import { z } from "zod";
import type { Company } from "./company-schema.js";

/** Stands where a value of the wrong shape stood (undefined still means "left out"). */
export const UNREADABLE: unique symbol = Symbol("unreadable");

/** `T`, any part of which may be unreadable. */
export type Draft<T> =
  typeof UNREADABLE | (T extends object ? { readonly [Key in keyof T]: Draft<T[Key]> } : T);
export type Readable<T> = Exclude<T, typeof UNREADABLE>;

export type CompanyDraft = Readable<Draft<Company>>;
export type CrewDraft = Readable<Draft<Company["crews"][number]>>;
export type JobDraft = Readable<Draft<Company["jobs"][number]>>;
export type TaskDraft = Readable<Draft<Company["jobs"][number]["tasks"][number]>>;

export function isReadable<T>(value: T): value is Readable<T> {
  return value !== UNREADABLE;
}

/** Whether it is there and can be read: neither left out, nor null, nor unreadable. */
export function isGiven<T>(value: T): value is NonNullable<Readable<T>> {
  return value !== UNREADABLE && value !== undefined && value !== null;
}

/** The readable items of a list, each with its position in the file; nothing where the list itself is unreadable. */
export function entriesOf<T>(
  list: readonly T[] | typeof UNREADABLE,
): [position: number, item: Readable<T>][] {
  if (list === UNREADABLE) return [];
  return [...list.entries()].filter((entry): entry is [number, Readable<T>] => isReadable(entry[1]));
}

/** The keys and values of a record, values that cannot be read included; nothing where the record is unreadable. */
export function recordOf<T>(
  record: Readonly<Record<string, T>> | typeof UNREADABLE,
): [key: string, value: T][] {
  return record === UNREADABLE ? [] : Object.entries(record);
}

/** Reads what can be read of `raw` by the schema. */
export function toDraft<S extends z.ZodType>(schema: S, raw: unknown): Draft<z.output<S>> {
  // oxlint-disable-next-line typescript/no-unsafe-type-assertion -- `salvage` keeps the schema's structure and puts UNREADABLE nowhere but in place of a value.
  return salvage(schema, raw) as Draft<z.output<S>>;
}

/** The schema inside "optional", "nullable" and "default". */
export function unwrapped(schema: z.core.$ZodType): z.core.$ZodType {
  let inner = schema;
  while (
    inner instanceof z.ZodOptional ||
    inner instanceof z.ZodNullable ||
    inner instanceof z.ZodDefault ||
    inner instanceof z.ZodPrefault
  ) {
    inner = inner.unwrap();
  }
  return inner;
}

function salvage(schema: z.core.$ZodType, raw: unknown): unknown {
  const whole = z.safeParse(schema, raw);
  if (whole.success) return whole.data;
  const inner = unwrapped(schema);
  if (inner instanceof z.ZodArray && Array.isArray(raw)) {
    return raw.map((item: unknown) => salvage(inner.element, item));
  }
  if (!isPlainObject(raw)) return UNREADABLE;
  if (inner instanceof z.ZodObject) {
    const fields = Object.entries<z.core.$ZodType>(inner.shape);
    return Object.fromEntries(fields.map(([key, field]) => [key, salvage(field, raw[key])]));
  }
  if (inner instanceof z.ZodRecord) {
    const entries = Object.entries(raw).filter(([key]) => z.safeParse(inner.keyType, key).success);
    return Object.fromEntries(entries.map(([key, value]) => [key, salvage(inner.valueType, value)]));
  }
  return UNREADABLE;
}

function isPlainObject(raw: unknown): raw is Readonly<Record<string, unknown>> {
  return typeof raw === "object" && raw !== null && !Array.isArray(raw);
}
