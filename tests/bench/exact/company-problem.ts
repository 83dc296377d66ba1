/**
 * The company of a seed, checked like any company file, as the exact model sees it.
 */
import { formatFault, parseCompany } from "../../../src/domain/company-file.js";
import { buildExactProblem, type ExactProblem } from "./exact-problem.js";
import { realShapedCompany } from "./real-shaped-company.js";

export function problemOf(seed: number): ExactProblem {
  const { input, firstDate } = realShapedCompany(seed);
  const parsed = parseCompany(input);
  if (!parsed.ok) throw new Error(parsed.error.map(formatFault).join("\n"));
  return buildExactProblem(parsed.value, firstDate);
}
