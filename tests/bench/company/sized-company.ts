/**
 * Big companies by their number of tasks, crews and houses in proportion: 40 crews and 150 houses for 2,500 tasks over
 * twelve months. Each seed is another company, so that nothing kept from one helps with the next.
 */
import { formatFault, parseCompany } from "../../../src/domain/company-file.js";
import type { Company, CompanyInput } from "../../../src/domain/company-schema.js";
import { civilDate, minuteAt, type Minute } from "../../../src/domain/time.js";
import { bigCompany } from "../big-company.js";

const FIRST_DATE = civilDate("2027-01-04");

/** The evening before is over; nothing has been worked. */
export const AS_OF: Minute = minuteAt(FIRST_DATE, "00:00", "America/New_York");

export const COMPANY_TASKS = 2500;

export function sizedInput(tasks: number, seed: number): CompanyInput {
  return bigCompany({
    crews: Math.round((tasks * 40) / COMPANY_TASKS),
    jobs: Math.round((tasks * 150) / COMPANY_TASKS),
    tasks,
    firstDate: FIRST_DATE,
    days: 330,
    seed,
  });
}

export function sizedCompany(tasks: number, seed: number): Company {
  return toCompany(sizedInput(tasks, seed));
}

export function toCompany(input: CompanyInput): Company {
  const parsed = parseCompany(input);
  if (!parsed.ok)
    throw new Error(`The invented company has faults: ${parsed.error.map(formatFault).join(" ")}`);
  return parsed.value;
}

export function countTasks(company: Company): number {
  return company.jobs.reduce((sum, job) => sum + job.tasks.length, 0);
}
