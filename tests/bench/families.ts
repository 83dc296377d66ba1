/**
 * The four families of published instances, each with its reader and its verifier. To the planner they are all problems
 * in open time; what is a machine, a resource or a project in the file is known here alone.
 */
import type { OpenTimeInput } from "../../src/planner/core/open-problem.js";
import { parseFjsp, toShopInput } from "./readers/fjsp.js";
import { parseImopse, toSkillInput } from "./readers/imopse.js";
import { parseMplib } from "./readers/mplib.js";
import { toProjectInput } from "./readers/project-instance.js";
import { parsePsplib } from "./readers/psplib.js";
import { checkProject } from "./verify/project.js";
import type { Schedule } from "./verify/schedule.js";
import { checkShop } from "./verify/shop.js";
import { checkSkills } from "./verify/skills.js";

export type Family = "psplib" | "mplib" | "fjsp" | "imopse";

export interface Instance {
  readonly input: OpenTimeInput;
  /** Length of the critical path where the file gives it. */
  readonly criticalPathMinutes: number | undefined;
  /** Every rule of the file that a schedule breaks, as sentences. */
  readonly check: (schedule: Schedule) => readonly string[];
}

/** Reads one file; `file` is its name for complaints. Throws `InstanceFault`. */
export const READERS: { readonly [K in Family]: (file: string, text: string) => Instance } = {
  psplib: (file, text) => {
    const instance = parsePsplib(file, text);
    return {
      input: toProjectInput(file, instance),
      criticalPathMinutes: instance.criticalPathMinutes,
      check: (schedule) => checkProject(instance, schedule),
    };
  },
  mplib: (file, text) => {
    const instance = parseMplib(file, text);
    return {
      input: toProjectInput(file, instance),
      criticalPathMinutes: undefined,
      check: (schedule) => checkProject(instance, schedule),
    };
  },
  fjsp: (file, text) => {
    const instance = parseFjsp(file, text);
    return {
      input: toShopInput(instance),
      criticalPathMinutes: undefined,
      check: (schedule) => checkShop(instance, schedule),
    };
  },
  imopse: (file, text) => {
    const instance = parseImopse(file, text);
    return {
      input: toSkillInput(instance),
      criticalPathMinutes: undefined,
      check: (schedule) => checkSkills(instance, schedule),
    };
  },
};
