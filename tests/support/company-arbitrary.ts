/**
 * Random valid companies for property tests: over three years, zones and seasons of both hemispheres, latitudes from
 * -50 to 65, one to five crews and one to six small houses. What is free stands in company-choices.ts.
 */
import type * as fc from "fast-check";
import type { Company, CompanyInput } from "../../src/domain/company-schema.js";
import type { Minute } from "../../src/domain/time.js";
import { parsed } from "./company-builder.js";
import { anyChoices } from "./company-choices.js";
import { companyFrom } from "./company-from-choices.js";

/** A valid company and the instant at which it is to be planned. Shrinks to one crew and one house without tasks. */
export function anyCompany(): fc.Arbitrary<{ company: Company; asOf: Minute }> {
  return anyCompanyFile().map(({ input, asOf }) => ({ company: parsed(input), asOf }));
}

/** The same as a file: what a person would have written. */
export function anyCompanyFile(): fc.Arbitrary<{ input: CompanyInput; asOf: Minute }> {
  return anyChoices.map((choices) => ({ input: companyFrom(choices), asOf: choices.asOf }));
}
