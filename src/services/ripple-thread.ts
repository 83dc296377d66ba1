/** The thread that works out ripples. Started by ripples.ts. */
import { buildRippleView, type RippleView } from "../board/ripple-view.js";
import { parseCompany } from "../domain/company-file.js";
import { keyOf, toSource, type Part } from "../domain/company-parts.js";
import { COMPANY_FORMAT, type Company } from "../domain/company-schema.js";
import { invariant } from "../domain/result.js";
import { findRipple } from "../planner/ways-out/ripple.js";
import { applyStates } from "../store/record-store.js";
import { answerQuestions } from "./asked-thread.js";
import { toPlan } from "./desk-plans.js";
import type { RippleQuestion } from "./ripples.js";

answerQuestions(({ parts, before, plan, asOf }: RippleQuestion): RippleView => {
  const standing = new Map<string, Part>(parts.map((part) => [keyOf(part), part]));
  const company = toCompany(standing);
  applyStates(standing, before);
  const was = toCompany(standing);
  return buildRippleView({ was, company, asOf, ripple: findRipple(was, company, toPlan(plan), asOf) });
});

function toCompany(parts: ReadonlyMap<string, Part>): Company {
  const parsed = parseCompany(toSource(parts.values(), COMPANY_FORMAT));
  invariant(parsed.ok, "what is on record has been checked as a whole company");
  return parsed.value;
}
