/** From when a task may start by its gates alone: `notBefore`, and the deliveries that it needs (rule 5, reading 17). */
import { civilDate, addDays, dayStart, parseInstant, type Minute } from "../../domain/time.js";
import type { Evidence, TaskFact } from "./evidence.js";

export interface Gate {
  readonly opens: Minute;
  /** As the end of "it may not start before …". */
  readonly why: string;
}

export function listGates({ company }: Evidence, { task, job, zone }: TaskFact): Gate[] {
  const gates: Gate[] = [];
  const notBefore = task.notBefore === null ? undefined : parseInstant(task.notBefore, zone);
  if (notBefore !== undefined) gates.push({ opens: notBefore, why: "its not-before time" });
  for (const delivery of job.deliveries.filter(
    (delivery) => task.needs.includes(delivery.id) && !delivery.received,
  )) {
    const usable = addDays(civilDate(delivery.expected), company.policy.deliveryBufferDays);
    gates.push({
      opens: dayStart(usable, zone),
      why: `delivery ${delivery.id} (${delivery.what}) is usable`,
    });
  }
  return gates;
}
