/**
 * Reads MPLIB files (`.rcmp`): several projects that share renewable resources, as described by R. Van Eynde and
 * M. Vanhoucke, "Resource-constrained multi-project scheduling: benchmark datasets and decoupled scheduling", Journal
 * of Scheduling 23 (2020), 301–325. Successors are written `project:activity`, both counted from 1.
 */
import { InstanceLines, type NumberLine } from "./instance-lines.js";
import type { ProjectActivity, ProjectInstance } from "./project-instance.js";

interface Row {
  readonly row: NumberLine;
  readonly name: string;
  readonly minutes: number;
  readonly demands: readonly number[];
  readonly successors: readonly { readonly project: number; readonly activity: number }[];
  readonly releaseMinute: number;
}

/** The instance that `text` describes; anything else is an `InstanceFault` with file and line. */
export function parseMplib(file: string, text: string): ProjectInstance {
  const lines = new InstanceLines(file, text);
  const projectCount = takeAlone(lines, "the number of projects");
  const resourceCount = takeAlone(lines, "the number of resource types");
  const units = lines.nextNumbers("the units of resources");
  const capacities = units.takeMany(resourceCount, "units of resource");
  units.end();

  const projects: Row[][] = [];
  for (let project = 1; project <= projectCount; project++) {
    projects.push(parseProject(lines, project, capacities));
  }
  lines.refuseRest(/^$/);

  const first: number[] = [];
  let count = 0;
  for (const rows of projects) {
    first.push(count);
    count += rows.length;
  }
  const toPlace = (row: Row, { project, activity }: Row["successors"][number]): number => {
    const rows = projects[project - 1];
    if (rows === undefined || activity < 1 || activity > rows.length) {
      throw row.row.fault(`there is no activity ${project}:${activity}`);
    }
    return (first[project - 1] ?? 0) + activity - 1;
  };
  return {
    capacities,
    activities: projects.flat().map((row): ProjectActivity => ({
      name: row.name,
      line: row.row.line.number,
      minutes: row.minutes,
      demands: row.demands,
      successors: row.successors.map((successor) => toPlace(row, successor)),
      releaseMinute: row.releaseMinute,
    })),
  };
}

function takeAlone(lines: InstanceLines, what: string): number {
  const row = lines.nextNumbers(what);
  const value = row.take(what, 1);
  row.end();
  return value;
}

function parseProject(lines: InstanceLines, project: number, capacities: readonly number[]): Row[] {
  const head = lines.nextNumbers(`the size of project ${project}`);
  const activityCount = head.take("the number of activities", 1);
  const releaseMinute = head.take("the release date");
  head.end();
  const flags = lines.nextNumbers(`which resources project ${project} uses`);
  flags.takeMany(capacities.length, "flag", 0, 1);
  flags.end();
  return Array.from({ length: activityCount }, (_, index) => {
    const what = `activity ${project}:${index + 1}`;
    const line = lines.next(what);
    const plain = line.words.filter((word) => !word.includes(":"));
    const row = lines.toNumbers({ ...line, words: plain }, what);
    const minutes = row.take("the length");
    const demands = capacities.map((capacity, resource) => row.take(`demand ${resource + 1}`, 0, capacity));
    const successorCount = row.take("the number of successors");
    row.end();
    const links = line.words.slice(plain.length);
    if (links.length !== successorCount || links.some((word) => !word.includes(":"))) {
      throw row.fault(`${what} should end with ${successorCount} successors`);
    }
    const successors = links.map((word) => {
      const match = /^(\d+):(\d+)$/.exec(word);
      if (match === null) throw row.fault(`a successor is written project:activity, found "${word}"`);
      return { project: Number(match[1]), activity: Number(match[2]) };
    });
    return { row, name: `${project}:${index + 1}`, minutes, demands, successors, releaseMinute };
  });
}
