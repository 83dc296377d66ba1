/**
 * Reads flexible job shops (`.fjs`), the format of P. Brandimarte, "Routing and scheduling in a flexible job shop by
 * tabu search", Annals of Operations Research 41 (1993), 157–183: one line for each job, and for each of its
 * operations the number of machines that can do it with machine (from 1) and length. Machines become crews.
 */
import type { OpenTimeInput } from "../../../src/planner/core/open-problem.js";
import { InstanceLines } from "./instance-lines.js";

export interface ShopOperation {
  readonly job: number;
  /** Place within its job, from 0. */
  readonly place: number;
  readonly choices: readonly { readonly machine: number; readonly minutes: number }[];
}

export interface ShopInstance {
  readonly machineCount: number;
  /** Job by job, each in its order. */
  readonly operations: readonly ShopOperation[];
}

/** The instance that `text` describes; anything else is an `InstanceFault` with file and line. */
export function parseFjsp(file: string, text: string): ShopInstance {
  const lines = new InstanceLines(file, text);
  const head = lines.next("the number of jobs and machines");
  // The third number, an average that may be rounded or missing, is for people.
  const sizes = lines.toNumbers({ ...head, words: head.words.slice(0, 2) }, "the first line");
  const jobCount = sizes.take("the number of jobs", 1);
  const machineCount = sizes.take("the number of machines", 1);
  if (head.words.length > 3) throw lines.fault(head, "the first line should hold two or three numbers");

  const operations: ShopOperation[] = [];
  for (let job = 0; job < jobCount; job++) {
    const row = lines.nextNumbers(`job ${job + 1}`);
    const operationCount = row.take("the number of operations");
    for (let place = 0; place < operationCount; place++) {
      const name = `operation ${place + 1}`;
      const choiceCount = row.take(`the number of machines for ${name}`, 1, machineCount);
      const choices = Array.from({ length: choiceCount }, () => ({
        machine: row.take(`a machine for ${name}`, 1, machineCount) - 1,
        minutes: row.take(`a length for ${name}`),
      }));
      if (new Set(choices.map((choice) => choice.machine)).size < choices.length) {
        throw row.fault(`${name} names a machine twice`);
      }
      operations.push({ job, place, choices });
    }
    row.end();
  }
  lines.refuseRest(/^$/);
  return { machineCount, operations };
}

export function toShopInput({ machineCount, operations }: ShopInstance): OpenTimeInput {
  return {
    crewCount: machineCount,
    equipmentCount: [],
    tasks: operations.map(({ place, choices }, index) => ({
      crews: choices.map(({ machine, minutes }) => ({ crew: machine, minutes })),
      fixedMinutes: 0,
      equipment: [],
      after: place > 0 ? [{ task: index - 1, lagMinutes: 0 }] : [],
      notBefore: 0,
    })),
  };
}
