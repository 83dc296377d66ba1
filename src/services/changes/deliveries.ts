/** What is known of a delivery: the day on which it is expected, and whether it has come. */
import { shortDate } from "../../board/spoken-time.js";
import type { PartKey } from "../../domain/company-parts.js";
import { zoneOfJob } from "../../domain/company-schema.js";
import { ok } from "../../domain/result.js";
import { civilDate, civilDateAt } from "../../domain/time.js";
import type { ChangeBase, ChangeRule } from "./company-change.js";
import {
  findFarDate,
  findPastDate,
  listFaults,
  NOTHING_DIFFERS,
  refuse,
  refuseFields,
} from "./change-refusals.js";
import { editFields, editInJob } from "./source-edit.js";

export interface DeliveryChanged extends ChangeBase {
  readonly kind: "delivery-changed";
  readonly job: string;
  readonly delivery: string;
  /** YYYY-MM-DD. */
  readonly expected: string;
  readonly received: boolean;
}

export const deliveryChangedRule: ChangeRule<DeliveryChanged> = {
  target: ({ job, delivery }): PartKey => `delivery/${job}/${delivery}`,
  apply: ({ source, company, nowMinute }, { job: jobId, delivery: id, expected, received }) => {
    const jobIndex = company.jobs.findIndex((job) => job.id === jobId);
    const job = company.jobs[jobIndex];
    const index = job?.deliveries.findIndex((item) => item.id === id) ?? -1;
    const delivery = job?.deliveries[index];
    if (job === undefined || delivery === undefined) {
      return refuse("no-such-delivery", `There is no delivery "${id}" at this house any more.`);
    }
    const isMoved = expected !== delivery.expected;
    if (!isMoved && received === delivery.received) return NOTHING_DIFFERS;
    if (isMoved) {
      const today = civilDateAt(nowMinute, zoneOfJob(company, job));
      // What has come may have been expected on any day; what has not cannot come in the past.
      const past = received ? undefined : findPastDate(expected, today);
      const sentence = past === undefined ? findFarDate(expected, today) : `${past} Or mark it as received.`;
      const faults = listFaults([[`jobs[${jobIndex}].deliveries[${index}].expected`, sentence]]);
      if (faults.length > 0) return refuseFields(faults);
    }
    const edit = {
      ...(isMoved && { expected }),
      ...(received !== delivery.received && { received }),
    };
    return ok(editInJob(source, jobId, "deliveries", id, (body) => editFields(body, edit)));
  },
  say: (company, { job: jobId, delivery: id, expected, received }) => {
    const job = company.jobs.find((candidate) => candidate.id === jobId);
    const delivery = job?.deliveries.find((item) => item.id === id);
    if (job === undefined || delivery === undefined) return `Delivery ${id} changed.`;
    const changes: string[] = [];
    if (expected !== delivery.expected) {
      changes.push(`expected day moved from ${spoken(delivery.expected)} to ${spoken(expected)}`);
    }
    if (received !== delivery.received) changes.push(received ? "received" : "not received after all");
    return `Delivery to ${job.name}, ${delivery.what}: ${changes.join(", ")}.`;
  },
};

function spoken(date: string): string {
  return shortDate(civilDate(date), "en");
}
