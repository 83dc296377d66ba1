/** What a crew has said, as a few words in a language: "Done", "6 labor-hours left", "Stuck: Material". */
import type { Company } from "../domain/company-schema.js";
import { DAMAGE_KINDS, type ReportBody } from "../domain/site-report.js";
import { taskTitle } from "./board-tags.js";
import { REPORT_WORDS } from "./report-words.js";
import type { Language } from "./spoken-time.js";

/** Without what it is about, and without the note. */
export function saidWords(body: ReportBody, language: Language): string {
  const words = REPORT_WORDS[language];
  switch (body.kind) {
    case "start":
      return words.said.start;
    case "done":
      return words.said.done;
    case "hours-left":
      return words.said.hoursLeft(laborHours(body.hours, language));
    case "stuck":
      return words.said.stuck(words.reasons[body.reason]);
    case "damage": {
      const amount = body.amount === null ? "" : `${number(body.amount, language)} ${words.units[body.unit]}`;
      const hours = body.hours === null ? "" : words.said.extraHours(laborHours(body.hours, language));
      const parts = [damageWords(body.what, language), body.area, amount, hours];
      return words.said.damage(parts.filter((part) => part !== "").join(", "));
    }
    case "stretch":
      return words.said.stretch;
    case "short-handed":
      return words.said.shortHanded(body.missing);
  }
}

/** "Side the front, 12 Harbor Road"; what is not there any more by its id. Empty where it is about the day. */
export function aboutWords(
  company: Company,
  { jobId, taskId }: { readonly jobId: string | null; readonly taskId: string | null },
): string {
  if (jobId === null || taskId === null) return "";
  const job = company.jobs.find(({ id }) => id === jobId);
  const task = job?.tasks.find(({ id }) => id === taskId);
  return `${task === undefined ? taskId : taskTitle(task.title, task.area)}, ${job?.name ?? jobId}`;
}

function damageWords(what: string, language: Language): string {
  const kind = DAMAGE_KINDS.find((known) => known === what);
  return kind === undefined ? what : REPORT_WORDS[language].damageKinds[kind];
}

function laborHours(hours: number, language: Language): string {
  const spoken = number(hours, language);
  if (language === "es") return `${spoken} ${hours === 1 ? "hora" : "horas"} de trabajo`;
  return `${spoken} labor-hour${hours === 1 ? "" : "s"}`;
}

function number(value: number, language: Language): string {
  return value.toLocaleString(language === "es" ? "es-US" : "en-US");
}
