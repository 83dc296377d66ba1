/**
 * The forms on the page of a house: its promised date, each delivery, each task. Of each what stands in its fields, which
 * is what was typed where it has come back, and the version of what it is about.
 */
import { keyOf } from "../domain/company-parts.js";
import { zoneOfJob, type Company, type Job, type Task } from "../domain/company-schema.js";
import { parseInstant } from "../domain/time.js";
import { toWallText } from "../domain/wall-text.js";
import { fail, ok, type Result } from "../domain/result.js";
import type { ProgressInput } from "../services/changes/task-progress.js";
import type { DeskState } from "../services/desk.js";
import { readReason, textOf } from "./form-body.js";
import type { FormFault } from "./form-faults.js";

export type FormValues = Readonly<Record<string, string>>;

export interface PartForm {
  /** Stands before the ids of its fields. */
  readonly prefix: string;
  readonly version: number;
  readonly values: FormValues;
  readonly faults: readonly FormFault[];
}

/** A form that has come back. */
export interface ReturnedForm {
  readonly prefix: string;
  readonly values: FormValues;
  readonly faults: readonly FormFault[];
}

export interface TaskForm extends PartForm {
  readonly isWait: boolean;
  readonly crews: readonly { readonly id: string; readonly name: string }[];
}

export interface JobForms {
  readonly promised: PartForm;
  readonly deliveries: readonly (PartForm & { readonly id: string; readonly what: string })[];
  readonly tasks: Readonly<Record<string, TaskForm>>;
}

export const PROMISED_PREFIX = "promised-";
export const deliveryPrefix = (id: string): string => `delivery-${id}-`;
export const taskPrefix = (id: string): string => `task-${id}-`;

export function buildJobForms(state: DeskState, job: Job, returned?: ReturnedForm): JobForms {
  const { company, versionOf } = state;
  const toForm = (prefix: string, version: number, standing: FormValues): PartForm =>
    returned?.prefix === prefix
      ? { prefix, version, values: { ...standing, ...returned.values }, faults: returned.faults }
      : { prefix, version, values: standing, faults: [] };
  return {
    promised: toForm(PROMISED_PREFIX, versionOf(keyOf({ kind: "job", id: job.id })), {
      promised: job.promised ?? "",
      reason: "",
    }),
    deliveries: job.deliveries.map((item) => ({
      id: item.id,
      what: item.what,
      ...toForm(deliveryPrefix(item.id), versionOf(keyOf({ kind: "delivery", id: `${job.id}/${item.id}` })), {
        expected: item.expected,
        received: item.received ? "yes" : "",
        reason: "",
      }),
    })),
    tasks: Object.fromEntries(
      job.tasks.map((task) => [
        task.id,
        {
          isWait: task.trade === null,
          crews: listCrews(company, task),
          ...toForm(
            taskPrefix(task.id),
            versionOf(keyOf({ kind: "task", id: `${job.id}/${task.id}` })),
            toTaskValues(task, zoneOfJob(company, job)),
          ),
        },
      ]),
    ),
  };
}

/** Those that can have begun it. */
function listCrews(company: Company, task: Task): TaskForm["crews"] {
  return company.crews.filter(
    ({ id, trades }) =>
      id === task.doneBy || id === task.crew || (task.trade !== null && Object.hasOwn(trades, task.trade)),
  );
}

function toTaskValues(task: Task, zone: string): FormValues {
  return {
    status: task.status,
    leftHours: task.leftHours === null ? "" : String(task.leftHours),
    doneBy: task.doneBy ?? "",
    startedAt: toFieldTime(task.startedAt, zone),
    finishedAt: toFieldTime(task.finishedAt, zone),
    reason: "",
  };
}

function toFieldTime(text: string | null, zone: string): string {
  const minute = text === null ? undefined : parseInstant(text, zone);
  return minute === undefined ? "" : toWallText(minute, zone);
}

export const TASK_FIELDS = ["status", "leftHours", "doneBy", "startedAt", "finishedAt", "reason"] as const;

/** The form of a task as it was sent. */
export function readTaskForm(body: unknown): FormValues {
  return Object.fromEntries(TASK_FIELDS.map((name) => [name, textOf(body, name).trim()]));
}

/** What a form says of a task, or everything that the form leaves open. */
export function parseTaskForm(values: FormValues): Result<ProgressInput, readonly FormFault[]> {
  const { status, leftHours = "", doneBy = "", startedAt = "", finishedAt = "" } = values;
  const faults: FormFault[] = [];
  if (status !== "to-do" && status !== "under-way" && status !== "done") {
    faults.push({ field: "status", sentence: "Say how far the task is: to do, under way or done." });
  }
  const hours = parseHours(leftHours);
  if (hours === undefined) {
    const sentence = `"${leftHours.slice(0, 40)}" is no number of hours. Write one from 0 on, such as 6 or 4.5.`;
    faults.push({ field: "leftHours", sentence });
  }
  if (faults.length > 0 || hours === undefined) return fail(faults);
  const given = (text: string): string | null => (text === "" ? null : text);
  return ok({
    // Proof of the cast: another status would have been a fault.
    status: status as ProgressInput["status"],
    leftHours: hours,
    doneBy: given(doneBy),
    startedAt: given(startedAt),
    finishedAt: given(finishedAt),
  });
}

/** Null for nothing, undefined for what is no number. A comma is read as people outside the United States mean it. */
export function parseHours(text: string): number | null | undefined {
  if (text === "") return null;
  return /^\d{1,9}(?:[.,]\d{1,4})?$/.test(text) ? Number(text.replace(",", ".")) : undefined;
}

/** The form of a promised date as it was sent. */
export function readPromisedForm(body: unknown): FormValues {
  return { promised: textOf(body, "promised").trim(), reason: readReason(body) };
}

/** The form of a delivery as it was sent. */
export function readDeliveryForm(body: unknown): FormValues {
  return {
    expected: textOf(body, "expected").trim(),
    received: textOf(body, "received") === "yes" ? "yes" : "",
    reason: readReason(body),
  };
}
