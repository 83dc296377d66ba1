/** What a form that takes a way carries besides the slip: which comparison it was shown in, and which way it is. */
import type { TakeWay, WaysBasis } from "../services/ways.js";
import { textOf } from "./form-body.js";
import type { Fields } from "./ways-form.js";

/** The fields of the form; `publish` is the button's own. */
export function toBasisFields({ version, planId, asOf }: WaysBasis, key: string, digest: string): Fields {
  return [
    ["version", String(version)],
    ["plan", String(planId)],
    ["asOf", String(asOf)],
    ["way", key],
    ["digest", digest],
  ];
}

/** Undefined where a field is missing that every form of ours has. */
export function readTakeForm(
  body: unknown,
): Pick<TakeWay, "basis" | "key" | "digest" | "publish"> | undefined {
  const [version, planId, asOf] = ["version", "plan", "asOf"].map((name) => numberIn(body, name));
  const [key, digest, publish] = ["way", "digest", "publish"].map((name) => textOf(body, name));
  if (version === undefined || planId === undefined || asOf === undefined) return undefined;
  if (!key || !digest || (publish !== "yes" && publish !== "no")) return undefined;
  return { basis: { version, planId, asOf }, key, digest, publish: publish === "yes" };
}

function numberIn(body: unknown, name: string): number | undefined {
  const text = textOf(body, name);
  return /^\d{1,15}$/.test(text) ? Number(text) : undefined;
}
