/**
 * Reads iMOPSE files (`.def`): tasks that each take one resource with one skill at a level, as described by P. B.
 * Myszkowski and others, "Hybrid ant colony optimization in solving multi-skill resource-constrained project scheduling
 * problem", Soft Computing 19 (2015), 3599–3619. Resources become crews; salaries are passed over (makespan only).
 */
import type { OpenTimeInput } from "../../../src/planner/core/open-problem.js";
import { InstanceLines, type Line } from "./instance-lines.js";
import { refuseCircles } from "./precedence-circle.js";

export interface SkillTask {
  readonly line: number;
  readonly minutes: number;
  readonly skill: string;
  readonly level: number;
  /** Places in the list of tasks. */
  readonly predecessors: readonly number[];
}

export interface SkillInstance {
  /** For each resource its level by skill. */
  readonly resources: readonly ReadonlyMap<string, number>[];
  readonly tasks: readonly SkillTask[];
}

/** The instance that `text` describes; anything else is an `InstanceFault` with file and line. */
export function parseImopse(file: string, text: string): SkillInstance {
  const lines = new InstanceLines(file, text);
  lines.skipTo("General characteristics");
  const taskCount = takeSize(lines, "Tasks:");
  const resourceCount = takeSize(lines, "Resources:");

  lines.skipTo("ResourceID");
  const resources = Array.from({ length: resourceCount }, (_, index) => {
    const line = lines.next(`resource ${index + 1}`);
    const match = /^(\d+)\s+\d+(?:\.\d+)?((?:\s+Q\d+:\s*\d+)*)$/.exec(line.text);
    if (match === null || Number(match[1]) !== index + 1) {
      throw lines.fault(line, `resource ${index + 1} should be its number, a salary and skills "Q1: 2"`);
    }
    return toSkills(lines, line, match[2] ?? "");
  });

  lines.skipTo("TaskID");
  const tasks = Array.from({ length: taskCount }, (_, index): SkillTask => {
    const line = lines.next(`task ${index + 1}`);
    const match = /^(\d+)\s+(\d+)\s+(Q\d+):\s*(\d+)((?:\s+\d+)*)$/.exec(line.text);
    if (match === null || Number(match[1]) !== index + 1) {
      throw lines.fault(
        line,
        `task ${index + 1} should be its number, a length, a skill "Q1: 2" and numbers of tasks before it`,
      );
    }
    const skill = match[3] ?? "";
    const level = Number(match[4]);
    if (!resources.some((skills) => (skills.get(skill) ?? -1) >= level)) {
      throw lines.fault(line, `no resource has ${skill} at level ${level}`);
    }
    const before = lines.toNumbers({ ...line, words: (match[5] ?? "").split(/\s+/).filter(Boolean) }, "");
    const predecessors = before
      .takeMany(before.line.words.length, "predecessor", 1, taskCount)
      .map((task) => task - 1);
    return { line: line.number, minutes: Number(match[2]), skill, level, predecessors };
  });
  lines.refuseRest(/^=+$/);
  refuseCircles(
    file,
    tasks.map(({ line, predecessors }) => ({ line, before: predecessors })),
  );
  return { resources, tasks };
}

export function toSkillInput({ resources, tasks }: SkillInstance): OpenTimeInput {
  return {
    crewCount: resources.length,
    equipmentCount: [],
    tasks: tasks.map((task) => ({
      crews: resources.flatMap((skills, crew) =>
        (skills.get(task.skill) ?? -1) >= task.level ? [{ crew, minutes: task.minutes }] : [],
      ),
      fixedMinutes: 0,
      equipment: [],
      after: task.predecessors.map((before) => ({ task: before, lagMinutes: 0 })),
      notBefore: 0,
    })),
  };
}

function takeSize(lines: InstanceLines, start: string): number {
  const line = lines.skipTo(start);
  const words = [line.text.slice(start.length).trim()];
  return lines.toNumbers({ ...line, words }, `"${start}"`).take(`the number after "${start}"`, 1);
}

function toSkills(lines: InstanceLines, line: Line, text: string): ReadonlyMap<string, number> {
  const pairs = [...text.matchAll(/(Q\d+):\s*(\d+)/g)].map(
    (match) => [match[1] ?? "", Number(match[2])] as const,
  );
  const skills = new Map(pairs);
  if (skills.size < pairs.length) throw lines.fault(line, "a resource names a skill twice");
  return skills;
}
