/** Jobs: access hours, deliveries, and what their tasks refer to in the job and in the company. */
import { entriesOf, isGiven, isReadable, recordOf, type CompanyDraft, type JobDraft } from "./draft.js";
import type { Place, Report } from "./fault.js";
import { checkHours } from "./hours-check.js";
import { checkKnown, checkUnique, knownIds, type Catalogue } from "./id-checks.js";
import { checkTask } from "./task-checks.js";
import { listCircles } from "./task-circles.js";
import { checkStaffing } from "./staffing-checks.js";

export function listJobFaults(file: CompanyDraft, catalogue: Catalogue, report: Report): void {
  const companyZone = isReadable(file.company) ? file.company.timeZone : undefined;
  for (const [index, job] of entriesOf(file.jobs)) {
    const at = ["jobs", index];
    checkHours([...at, "access"], "access time", job.access, report);
    checkUnique([...at, "deliveries"], job.deliveries, "id", report);
    checkUnique([...at, "tasks"], job.tasks, "id", report);
    const zone = isReadable(job.site) ? (job.site.timeZone ?? companyZone) : undefined;
    for (const [nth, task] of entriesOf(job.tasks)) {
      checkTask([...at, "tasks", nth], task, isGiven(zone) ? zone : undefined, report);
    }
    checkReferences(at, job, catalogue, report);
    checkOrder(at, job, report);
  }
  checkStaffing(file, report);
}

function checkReferences(at: Place, job: JobDraft, catalogue: Catalogue, report: Report): void {
  const deliveries = knownIds("delivery", job.deliveries, " in this job");
  for (const [nth, task] of entriesOf(job.tasks)) {
    const here = [...at, "tasks", nth];
    if (isGiven(task.trade)) checkKnown([...here, "trade"], task.trade, catalogue.trades, report);
    if (isGiven(task.crew)) checkKnown([...here, "crew"], task.crew, catalogue.crews, report);
    if (isGiven(task.doneBy)) checkKnown([...here, "doneBy"], task.doneBy, catalogue.crews, report);
    for (const [index, id] of entriesOf(task.needs))
      checkKnown([...here, "needs", index], id, deliveries, report);
    for (const [id] of recordOf(task.equipment)) {
      checkKnown([...here, "equipment", id], id, catalogue.equipment, report);
    }
  }
}

function checkOrder(at: Place, job: JobDraft, report: Report): void {
  const tasks = knownIds("task", job.tasks, " in this job");
  const order = new Map<string, string[]>();
  for (const [nth, { id, after }] of entriesOf(job.tasks)) {
    const before: string[] = [];
    for (const [index, link] of entriesOf(after)) {
      const here = [...at, "tasks", nth, "after", index, "task"];
      if (isGiven(id) && link.task === id) {
        report(here, `The task ${JSON.stringify(id)} cannot come after itself. Take this entry out.`);
      } else if (isReadable(link.task) && checkKnown(here, link.task, tasks, report)) before.push(link.task);
    }
    if (isGiven(id) && !order.has(id)) order.set(id, before);
  }
  for (const circle of listCircles(order)) {
    report(
      [...at, "tasks"],
      `These tasks go in a circle, each before the next: ${circle.join(" → ")}. Take one of their "after" entries out.`,
    );
  }
}
