/**
 * A plan read back from a file, as `daylap plan --json` wrote it. Its shape is checked here; whether it keeps the rules
 * is for the checker to say.
 */
import { readFile } from "node:fs/promises";
import { toPath } from "../domain/fault.js";
import type { Fault } from "../domain/company-file.js";
import { planSchema, type Plan } from "../domain/plan-format.js";
import { fail, ok, type Result } from "../domain/result.js";
import { reasonOf } from "../store/company-file-store.js";

/** The plan, or every fault of the file. */
export async function readPlanFile(path: string): Promise<Result<Plan, readonly Fault[]>> {
  try {
    return parsePlanText(await readFile(path, "utf8"));
  } catch (error) {
    return fail([{ path: "", sentence: `The plan file ${path} cannot be read: ${reasonOf(error)}.` }]);
  }
}

export function parsePlanText(text: string): Result<Plan, readonly Fault[]> {
  let json: unknown;
  try {
    json = JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch (error) {
    return fail([{ path: "", sentence: `The plan file is no JSON: ${reasonOf(error)}.` }]);
  }
  const parsed = planSchema.safeParse(json);
  if (parsed.success) return ok(parsed.data);
  return fail(
    parsed.error.issues.map((issue) => {
      const at = issue.path.map((key) => (typeof key === "number" ? key : String(key)));
      return { path: toPath(at), sentence: `${issue.message}.` };
    }),
  );
}
