/**
 * Rule 2: a crew is in one place at a time, and a task is worked by one crew. Being elsewhere takes a drive of the right
 * length in between; crews that start at the yard load there and drive there and back.
 */
import type { BrokenRule } from "./broken-rule.js";
import { brokenTask, type Case, type Check } from "./case.js";
import type { CrewDay } from "./crew-days.js";
import { saySpan, sayTask, type BlockFact, type Evidence } from "./evidence.js";
import { inRange, type Range } from "./length.js";
import { LOAD_MINUTES, travelMinutes } from "./travel.js";

export const checkOnePlace: Check = (files) => [
  ...listOverlaps(files.evidence),
  ...listSharedTasks(files.evidence),
  ...files.days.flatMap((day) => checkMovement(files, day)),
];

function listOverlaps({ blocks, zone }: Evidence): BrokenRule[] {
  const broken: BrokenRule[] = [];
  let latest: BlockFact | undefined;
  for (const block of blocks) {
    if (latest !== undefined && latest.crew === block.crew && block.start < latest.end) {
      broken.push({
        rule: 2,
        crew: block.crew.id,
        sentence: `Crew ${block.crew.name} has ${sayBlock(block)} ${saySpan(block, zone)} while it has ${sayBlock(latest)} ${saySpan(latest, zone)}.`,
      });
    }
    if (latest === undefined || latest.crew !== block.crew || block.end > latest.end) latest = block;
  }
  return broken;
}

function listSharedTasks({ work }: Evidence): BrokenRule[] {
  return [...work.values()].flatMap((blocks) => {
    const names = [...new Set(blocks.map((block) => block.crew.name))];
    const fact = blocks[0]?.task;
    if (fact === undefined || names.length < 2) return [];
    return [brokenTask(2, fact, `${sayTask(fact)} is worked by more than one crew: ${names.join(", ")}.`)];
  });
}

function checkMovement({ evidence }: Case, day: CrewDay): BrokenRule[] {
  const { crew, date, stays } = day;
  const say = (sentence: string): BrokenRule => ({
    rule: 2,
    crew: crew.id,
    sentence: `Crew ${crew.name} on ${date} ${sentence}.`,
  });
  if (stays.length === 0) return [say("is called out, but goes to no house")];
  const yard = crew.startsAt === "yard" ? evidence.company.company.yard : null;
  // A crew of a yard that the file does not place: nothing can be said of its way there.
  const unknownYard = crew.startsAt === "yard" && yard === null;
  const places = [
    { name: "the yard", at: yard },
    ...stays.map(({ job }) => ({ name: job.name, at: job.site })),
    { name: "the yard", at: yard },
  ];
  const broken = day.strays.map((block) =>
    say(`has ${sayBlock(block)} ${saySpan(block, evidence.zone)} in the middle of a stay at one house`),
  );
  for (const [index, gap] of day.gaps.entries()) {
    const from = places[index];
    const to = places[index + 1];
    if (from === undefined || to === undefined) continue;
    const atYard = index === 0 || index === stays.length;
    if (atYard && unknownYard) continue;
    const leg =
      from.at === null || to.at === null ? NOTHING : travelMinutes(evidence.company, from.at, to.at);
    const load = index === 0 && yard !== null ? { least: LOAD_MINUTES, most: LOAD_MINUTES } : NOTHING;
    const between = `from ${from.name} to ${to.name}`;
    broken.push(
      ...checkOne(
        gap.filter((block) => block.kind === "travel"),
        leg,
        `to drive ${between}`,
      ).map(say),
      ...checkOne(
        gap.filter((block) => block.kind === "load"),
        load,
        "to load",
      ).map(say),
    );
    const loads = gap.findIndex((block) => block.kind === "load");
    const drives = gap.findIndex((block) => block.kind === "travel");
    if (drives >= 0 && loads > drives) broken.push(say("drives before it loads"));
  }
  return broken;
}

const NOTHING: Range = { least: 0, most: 0 };

function checkOne(blocks: readonly BlockFact[], wanted: Range, what: string): string[] {
  const minutes = blocks.reduce((sum, block) => sum + block.end - block.start, 0);
  if (!inRange(minutes, wanted)) return [`has ${minutes} minutes ${what}, where ${wanted.most} are right`];
  return blocks.length > 1 ? [`does it in ${blocks.length} parts ${what}`] : [];
}

function sayBlock(block: BlockFact): string {
  return block.task === null ? block.kind : `work on ${sayTask(block.task)}`;
}
