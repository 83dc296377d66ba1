/**
 * The company file's shape as JSON Schema (draft 2020-12), generated from the schema that reads it, for programs that
 * write company files. It says what may be written, defaults left out; what ties parts together it cannot say.
 */
import { z } from "zod";
import { COMPANY_FORMAT, companySchema } from "./company-schema.js";
import { PRODUCT_NAME } from "./product.js";

/** A JSON Schema document: plain JSON, a new object on each call. */
export function companyJsonSchema(): Readonly<Record<string, unknown>> {
  const { $schema, ...shape } = z.toJSONSchema(companySchema, { io: "input", target: "draft-2020-12" });
  return {
    $schema,
    title: `${PRODUCT_NAME} company file (${COMPANY_FORMAT})`,
    description:
      "One document with everything that a plan depends on: policy, trades, crews, equipment, jobs with their tasks, " +
      "weather holds and the last published plan. Fields that have a default may be left out; unknown fields are refused. " +
      "References between parts (ids, the order of tasks, a crew for each trade) are checked when the file is read.",
    ...shape,
  };
}
