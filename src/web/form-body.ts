/**
 * Fields of a form as they were sent. Nothing here throws: a field that is missing or of another kind is empty.
 */

/** One text; empty where it is missing or sent more than once. */
export function textOf(body: unknown, name: string): string {
  const value = fieldOf(body, name);
  return typeof value === "string" ? value : "";
}

/** All texts that were sent under one name. */
export function listOf(body: unknown, name: string): readonly string[] {
  const value = fieldOf(body, name);
  if (typeof value === "string") return [value];
  return Array.isArray(value) ? value.filter((item) => typeof item === "string") : [];
}

/** The version that the form was made for; undefined where it names none, which no form of ours does. */
export function readVersion(body: unknown): number | undefined {
  const text = textOf(body, "version");
  return /^\d{1,15}$/.test(text) ? Number(text) : undefined;
}

/** Why somebody makes a change, in her own words; every form may say so. */
export function readReason(body: unknown): string {
  return textOf(body, "reason").trim();
}

function fieldOf(body: unknown, name: string): unknown {
  if (typeof body !== "object" || body === null || !Object.hasOwn(body, name)) return undefined;
  return Object.entries(body).find(([key]) => key === name)?.[1];
}
