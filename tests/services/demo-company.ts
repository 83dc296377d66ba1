/** The demo company as of a fixed evening: enough houses and crews that a search does not soon run out of tries. */
import type { Company } from "../../src/domain/company-schema.js";
import { parseCompany } from "../../src/domain/company-file.js";
import { present } from "../../src/domain/result.js";
import { civilDate, parseInstant, type Minute } from "../../src/domain/time.js";
import { layDemo, readDemoTemplate } from "../../src/services/demo.js";

export const EVENING: Minute = present(parseInstant("2026-12-07T18:00", "America/New_York"), "the evening");

export async function demoCompany(): Promise<Company> {
  const parsed = parseCompany(layDemo(await readDemoTemplate(), civilDate("2026-12-07")));
  return present(parsed.ok ? parsed.value : undefined, "the demo company without a fault");
}
