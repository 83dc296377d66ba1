/**
 * What a crew's calendar shows: one event for each stay at a house on a published day, with what to do there in the crew's
 * language. Only what is published; days after the freeze and released ones are tentative, as the sheet calls them forecast.
 */
import type { Company, Crew, Job, PublishedBlock } from "../domain/company-schema.js";
import type { Coordinates } from "../domain/great-circle.js";
import { civilDateAt, type CivilDate, type Minute } from "../domain/time.js";
import { taskTitle } from "./board-tags.js";
import { findBinding, type Binding } from "./freeze.js";
import { isWholePublished, type PublishedBy } from "./promise.js";
import { instantOf } from "./reading.js";
import type { Language } from "./spoken-time.js";
import { STANDING_WORDS } from "./standing-words.js";
import { WORDS } from "./words.js";

/** What a calendar shows of one stay; kept as JSON, to tell whether it has changed. */
export interface FeedEventBody {
  readonly start: Minute;
  readonly end: Minute;
  readonly summary: string;
  readonly description: string;
  readonly location: string;
  readonly place: Coordinates;
  /** The day lies after the freeze, or a person has released it: it may still move. */
  readonly isTentative: boolean;
}

export interface FeedEvent {
  /** The same for ever for a crew, a date, a house and the nth stay there that day. */
  readonly uid: string;
  /** By the company's calendar. */
  readonly date: CivilDate;
  readonly body: FeedEventBody;
}

/** What is published, by whom, and the day on which it is asked for. */
export interface FeedSource {
  readonly company: Company;
  readonly publication: Pick<PublishedBy, "plan"> | null;
  readonly today: CivilDate;
}

/** The events of a crew, in order of time; none where nothing is published. */
export function listFeedEvents(source: FeedSource, crew: Crew): readonly FeedEvent[] {
  const { company, today } = source;
  const zone = company.company.timeZone;
  const jobs = new Map(company.jobs.map((job) => [job.id, job]));
  const own = (company.published ?? [])
    .filter((block) => block.crew === crew.id)
    .map((block) => {
      const start = instantOf(block.start, zone);
      return { block, start, end: instantOf(block.end, zone), date: civilDateAt(start, zone) };
    })
    .sort((a, b) => a.start - b.start || a.end - b.end);
  const publishedOn = (date: CivilDate): readonly PublishedBlock[] =>
    own.flatMap((timed) => (timed.date === date ? [timed.block] : []));
  const isWhole = isWholePublished(company, source.publication);
  const stays = listStays(own);
  const nth = new Map<string, number>();
  return stays.flatMap((stay) => {
    const job = jobs.get(stay.job);
    if (job === undefined) return [];
    const name = `${stay.date}.${crew.id}.${stay.job}`;
    const number = (nth.get(name) ?? 0) + 1;
    nth.set(name, number);
    return [
      {
        uid: `${name}${number === 1 ? "" : `.${number}`}@daylap`,
        date: stay.date,
        body: toBody(company, crew, job, stay, {
          isWhole,
          binding: findBinding(company, publishedOn(stay.date), stay.date, today),
        }),
      },
    ];
  });
}

interface TimedBlock {
  readonly block: PublishedBlock;
  readonly start: Minute;
  readonly end: Minute;
  readonly date: CivilDate;
}

interface Stay {
  readonly job: string;
  readonly date: CivilDate;
  readonly blocks: readonly TimedBlock[];
}

/** Loading and driving are no stay; a break belongs to the stay that it lies in. */
function listStays(blocks: readonly TimedBlock[]): readonly Stay[] {
  const stays: { job: string; date: CivilDate; blocks: TimedBlock[] }[] = [];
  let hasLeft = true;
  for (const timed of blocks) {
    const { kind, job } = timed.block;
    if (kind === "load" || kind === "travel") hasLeft = true;
    if (kind === "load" || kind === "travel" || kind === "break" || job === null) continue;
    const last = stays.at(-1);
    if (!hasLeft && last !== undefined && last.job === job && last.date === timed.date)
      last.blocks.push(timed);
    else stays.push({ job, date: timed.date, blocks: [timed] });
    hasLeft = false;
  }
  // Where only the setup of what was to come is published, nobody has anything to do.
  return stays.filter((stay) => stay.blocks.some(({ block }) => block.kind === "work"));
}

interface Promised {
  readonly isWhole: boolean;
  readonly binding: Binding;
}

/** As the day's sheet says it. */
function sayBinding({ isWhole, binding }: Promised, language: Language): string {
  const { line } = STANDING_WORDS[language];
  if (binding !== "held") return line[binding];
  return isWhole ? line.published : line["work-drifted"];
}

function toBody(company: Company, crew: Crew, job: Job, { blocks }: Stay, promised: Promised): FeedEventBody {
  const words = WORDS[crew.language];
  const tasks = new Map<string, [first: number, last: number] | null>();
  for (const { block } of blocks) {
    if (block.kind !== "work" || block.task === null) continue;
    const known = tasks.get(block.task);
    const { units } = block;
    if (units === null) tasks.set(block.task, known ?? null);
    else if (known) tasks.set(block.task, [Math.min(known[0], units[0]), Math.max(known[1], units[1])]);
    else tasks.set(block.task, [units[0], units[1]]);
  }
  const titles: string[] = [];
  const lines: string[] = [];
  for (const [id, units] of tasks) {
    const task = job.tasks.find((candidate) => candidate.id === id);
    if (task === undefined) continue;
    const trade = company.trades.find((candidate) => candidate.id === task.trade)?.name[crew.language];
    const title = taskTitle(task.title, task.area);
    titles.push(title);
    const parts = [
      ...(trade === undefined ? [] : [trade]),
      ...(units === null || task.units === 1 ? [] : [words.unit(units[0], units[1], task.units)]),
    ];
    lines.push(parts.length === 0 ? title : `${title} (${parts.join(", ")})`);
  }
  return {
    start: Math.min(...blocks.map(({ start }) => start)),
    end: Math.max(...blocks.map(({ end }) => end)),
    summary: titles.length === 0 ? job.name : `${job.name}: ${titles.join("; ")}`,
    description: [...lines, sayBinding(promised, crew.language)].join("\n"),
    location: job.site.address === "" ? job.name : job.site.address,
    place: { lat: job.site.lat, lon: job.site.lon },
    isTentative: promised.binding !== "held",
  };
}
