/**
 * Reads PSPLIB single-mode files (`.sm`), as described by R. Kolisch and A. Sprecher, "PSPLIB – A project scheduling
 * problem library", European Journal of Operational Research 96 (1996), 205–216. One line each for the order, then one
 * each for length and demands; job numbers count from 1, the first and last job are dummies.
 */
import { InstanceLines } from "./instance-lines.js";
import type { ProjectInstance } from "./project-instance.js";

export interface PsplibInstance extends ProjectInstance {
  /** `MPM-Time`: length of the critical path without regard to resources. */
  readonly criticalPathMinutes: number;
}

/** The instance that `text` describes; anything else is an `InstanceFault` with file and line. */
export function parsePsplib(file: string, text: string): PsplibInstance {
  const lines = new InstanceLines(file, text);
  const jobCount = takeSize(lines, "jobs (incl. supersource/sink )", 1);
  const resourceCount = takeSize(lines, "- renewable", 0);
  for (const kind of ["- nonrenewable", "- doubly constrained"]) takeSize(lines, kind, 0, 0);

  lines.skipTo("PROJECT INFORMATION");
  lines.skipTo("pronr.");
  const information = lines.nextNumbers("the project's row");
  const criticalPathMinutes = information.takeMany(6, "column").at(-1) ?? 0;

  lines.skipTo("PRECEDENCE RELATIONS");
  lines.skipTo("jobnr.");
  const successors = Array.from({ length: jobCount }, (_, index) => {
    const row = lines.nextNumbers(`the successors of job ${index + 1}`);
    row.take("the job number", index + 1, index + 1);
    row.take("the number of modes", 1, 1);
    const list = row.takeMany(row.take("the number of successors"), "successor", 1, jobCount);
    row.end();
    return list.map((job) => job - 1);
  });

  lines.skipTo("REQUESTS/DURATIONS");
  lines.skipTo("jobnr.");
  lines.skipTo("---");
  const rows = Array.from({ length: jobCount }, (_, index) => {
    const row = lines.nextNumbers(`the length of job ${index + 1}`);
    row.take("the job number", index + 1, index + 1);
    row.take("the mode", 1, 1);
    const minutes = row.take("the length");
    const demands = row.takeMany(resourceCount, "demand");
    row.end();
    return { row, minutes, demands };
  });

  lines.skipTo("RESOURCEAVAILABILITIES");
  lines.next("the names of resources");
  const availability = lines.nextNumbers("the units of resources");
  const capacities = availability.takeMany(resourceCount, "units of resource");
  availability.end();
  lines.refuseRest(/^\*+$/);

  const activities = rows.map(({ row, minutes, demands }, index) => {
    const tooMuch = demands.findIndex((demand, resource) => demand > (capacities[resource] ?? 0));
    if (tooMuch !== -1) {
      throw row.fault(`job ${index + 1} needs more units of resource ${tooMuch + 1} than there are`);
    }
    return {
      name: String(index + 1),
      line: row.line.number,
      minutes,
      demands,
      successors: successors[index] ?? [],
      releaseMinute: 0,
    };
  });
  return { capacities, activities, criticalPathMinutes };
}

/** The number in a line such as `jobs (incl. supersource/sink ):  32`. */
function takeSize(lines: InstanceLines, start: string, least: number, most?: number): number {
  const line = lines.skipTo(start);
  const text = line.text.slice(line.text.indexOf(":") + 1).trim();
  const words = text.split(/\s+/);
  return lines.toNumbers({ ...line, words }, `"${start}"`).take(`the number of "${start}"`, least, most);
}
