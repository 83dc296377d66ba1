/**
 * The schema's complaints as plain sentences, each at its place in the file. A message in the schema that starts with
 * a verb ("must be at least 1", "is no date") is completed with the value that was found.
 */
import { z } from "zod";
import { companySchema } from "./company-schema.js";
import { unwrapped } from "./draft.js";
import { findMeant, quotedList, shown, type Place, type PlacedFault } from "./fault.js";

type Issue = z.core.$ZodIssue;

const KIND_WORDS: Readonly<Record<string, string>> = {
  string: "a text in quotes",
  number: "a number",
  int: "a whole number",
  boolean: "true or false",
  array: "a list in square brackets",
  object: "an object in braces",
  record: "an object in braces",
  tuple: "a pair in square brackets",
};

/** All faults that the schema finds in `raw`; empty where the shape is right. */
export function listShapeFaults(raw: unknown, issues: readonly Issue[]): PlacedFault[] {
  return issues.flatMap((issue) => toFaults(raw, issue, []));
}

function toFaults(raw: unknown, issue: Issue, base: Place): PlacedFault[] {
  const at: Place = [...base, ...issue.path.map((key) => (typeof key === "number" ? key : String(key)))];
  const value = valueAt(raw, at);
  if (issue.code === "unrecognized_keys") {
    return issue.keys.map((key) => ({ at: [...at, key], sentence: unknownField(key, at) }));
  }
  if (issue.code === "invalid_union" && Array.isArray(value)) {
    // The alternative that takes a list knows which entry is wrong.
    const inList = issue.errors.find((errors) => errors.some((inner) => inner.path.length > 0));
    if (inList) return inList.flatMap((inner) => toFaults(raw, inner, at));
  }
  if (issue.code === "invalid_key") {
    const key = JSON.stringify(at.at(-1));
    return issue.issues.map((inner) => ({ at, sentence: completed(key, inner.message) }));
  }
  return [{ at, sentence: sentenceOf(issue, value) }];
}

function sentenceOf(issue: Issue, value: unknown): string {
  const demand = demandOf(issue, value);
  if (value === undefined)
    return `This is missing: ${demand.startsWith("must") ? `it ${demand}` : "it must be a text in quotes"}.`;
  return completed(shown(value), demand);
}

function demandOf(issue: Issue, value: unknown): string {
  if (!issue.message.startsWith("Invalid") && !issue.message.startsWith("Too ")) return issue.message;
  if (issue.code === "invalid_type") {
    if (typeof value === "number" && issue.expected === "number") return "must be a finite number";
    return `must be ${KIND_WORDS[issue.expected] ?? issue.expected}`;
  }
  if (issue.code === "invalid_value") return `must be ${quotedList(issue.values.map(String), "or")}`;
  if (issue.code !== "too_small" && issue.code !== "too_big")
    return `must be something else (${issue.message})`;
  if (issue.origin === "array") return "must have two entries";
  return issue.code === "too_small"
    ? `must be at least ${issue.minimum}`
    : `must be at most ${issue.maximum}`;
}

function completed(value: string, demand: string): string {
  return demand.startsWith("must") ? `${value} will not do: it ${demand}.` : `${value} ${demand}.`;
}

function unknownField(key: string, at: Place): string {
  const meant = findMeant(key, fieldsAt(at));
  const advice = meant === undefined ? "Take it out." : `Did you mean ${JSON.stringify(meant)}?`;
  return `There is no field ${JSON.stringify(key)} here. ${advice}`;
}

/** The fields that the schema knows at a place. */
function fieldsAt(at: Place): string[] {
  let schema: z.core.$ZodType | undefined = companySchema;
  for (const key of at) schema = schema && partOf(unwrapped(schema), key);
  const inner = schema && unwrapped(schema);
  return inner instanceof z.ZodObject ? [...fieldsOf(inner).keys()] : [];
}

function partOf(schema: z.core.$ZodType, key: string | number): z.core.$ZodType | undefined {
  if (schema instanceof z.ZodArray) return schema.element;
  return schema instanceof z.ZodObject ? fieldsOf(schema).get(String(key)) : undefined;
}

function fieldsOf(schema: z.ZodObject): Map<string, z.core.$ZodType> {
  return new Map(Object.entries<z.core.$ZodType>(schema.shape));
}

function valueAt(raw: unknown, at: Place): unknown {
  let value = raw;
  for (const key of at) value = isRecord(value) ? value[key] : undefined;
  return value;
}

function isRecord(value: unknown): value is Readonly<Record<string | number, unknown>> {
  return typeof value === "object" && value !== null;
}
