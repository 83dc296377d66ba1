/**
 * Small invented companies of southern Maine with the shape of real ones: two or three crews of different trades and
 * paces, two or three houses, 8 to 12 tasks in trade order, promised dates that not all can keep. Seeded. Nothing in
 * them goes beyond what the exact model can say (README.md lists what was left out).
 */
import type { CompanyInput } from "../../../src/domain/company-schema.js";
import { addDays, civilDate, type CivilDate } from "../../../src/domain/time.js";
import { Random } from "../../../src/planner/core/random.js";
import { listHouseTasks, type HouseKind } from "./house-tasks.js";

export interface RealShapedCompany {
  readonly input: CompanyInput;
  /** The Monday on which the plan begins, at midnight. */
  readonly firstDate: CivilDate;
}

type CrewInput = CompanyInput["crews"][number];
type HoldInput = NonNullable<CompanyInput["holds"]>[number];

const TRADES: readonly (readonly [id: string, en: string, es: string, stamp: string])[] = [
  ["tear-off", "Tear-off", "Desmontaje", "TO"],
  ["sheathing", "Sheathing", "Entablado", "SH"],
  ["wrb", "Weather barrier", "Barrera climática", "WB"],
  ["windows", "Windows", "Ventanas", "WN"],
  ["trim", "Trim", "Molduras", "TR"],
  ["siding", "Siding", "Revestimiento", "SD"],
  ["stone", "Stone", "Piedra", "ST"],
  ["caulk", "Caulk and paint", "Sellador y pintura", "CK"],
];

const OPENING = ["tear-off", "sheathing", "wrb", "windows"];
/** By place: who opens walls, who clads them, who lays stone; a crew of some companies does more. */
const CREW_KINDS: readonly (readonly (readonly string[])[])[] = [
  [OPENING, [...OPENING, "trim"], [...OPENING, "trim", "siding"]],
  [
    ["trim", "siding", "caulk", "stone"],
    ["trim", "siding", "caulk", "stone", "wrb"],
    [...OPENING, "trim", "siding", "caulk", "stone"],
  ],
  [
    ["stone", "caulk", "trim"],
    ["siding", "caulk"],
    [...OPENING, "caulk"],
  ],
];
const CREW_NAMES = ["Alder", "Birch", "Cedar"];
const LEADS = ["Noor", "Tomás", "Ines"];
const HOUSES = [
  { id: "spruce-14", name: "14 Spruce Lane", lat: 43.63, lon: -70.28 },
  { id: "ledge-3", name: "3 Ledge Road", lat: 43.57, lon: -70.33 },
  { id: "heron-27", name: "27 Heron Way", lat: 43.72, lon: -70.22 },
];
/** Mondays whose following two months have no change of clocks. */
const FIRST_DATES = [
  "2027-03-22",
  "2027-04-19",
  "2027-05-24",
  "2027-07-12",
  "2027-08-02",
  "2027-11-08",
  "2027-12-13",
];
const KINDS: readonly HouseKind[] = ["re-side", "windows", "stone-skirt", "gable"];

/** The company of a seed; the same seed gives the same company. */
export function realShapedCompany(seed: number): RealShapedCompany {
  const random = new Random(seed * 7919);
  const pick = <T>(list: readonly T[]): T => list[random.below(list.length)] as T; // proof: no list here is empty
  const firstDate = civilDate(pick(FIRST_DATES));
  const isWinter = firstDate > "2027-10";
  const shift: [string, string] = isWinter
    ? ["07:30", "15:30"]
    : ["07:00", pick(["15:30", "15:30", "16:00"])];
  const setupMinutes = pick([15, 20, 25]);
  const cleanupMinutes = pick([20, 30]);
  const crewCount = 2 + random.below(2);
  const crews = Array.from({ length: crewCount }, (_, place) =>
    makeCrew(place, pick(CREW_KINDS[place] ?? [OPENING]), shift, firstDate, random),
  );
  const trades = new Set(crews.flatMap((crew) => Object.keys(crew.trades)));
  const houseCount = 2 + random.below(2);
  const people = crews.reduce((sum, crew) => sum + crew.size, 0);
  const jobs = listHouseTasks(random, KINDS, houseCount, trades).map((tasks, place) => {
    const house = HOUSES[place] ?? { id: "spruce-14", name: "14 Spruce Lane", lat: 43.63, lon: -70.28 };
    const hours = tasks.reduce((sum, task) => sum + (task.laborHours ?? 0), 0);
    const waits = tasks.reduce(
      (sum, task) => sum + (task.waitBusinessDays ?? 0) + (task.after?.[0]?.lagHours ?? 0) / 24,
      0,
    );
    const alone = hours / (people / crewCount) / 7 + waits;
    const days = Math.round(alone * 1.4 * (0.85 + random.next() * 0.5) + place * 1.5);
    const isLate = random.next() < 0.6;
    const late = tasks.find((task) => task.trade === "stone" || task.trade === "siding");
    if (isLate && late) late.needs = ["d1"];
    const named = crews.find((crew) => tasks.some((task) => task.trade === "trim") && "trim" in crew.trades);
    if (named && random.next() < 0.25)
      for (const task of tasks) if (task.trade === "trim") task.crew = named.id;
    return {
      id: house.id,
      name: house.name,
      site: { lat: house.lat, lon: house.lon },
      promised: addDays(firstDate, Math.max(2, days)),
      weight: pick([1, 1, 1, 2, 3]),
      deliveries:
        isLate && late
          ? [{ id: "d1", what: "Boards and stone", expected: addDays(firstDate, 2 + random.below(8)) }]
          : [],
      tasks,
    };
  });
  return {
    firstDate,
    input: {
      format: "daylap-company/1",
      company: {
        name: "Tern Rock Exteriors",
        timeZone: "America/New_York",
        yard: { lat: 43.66, lon: -70.26 },
      },
      policy: {},
      trades: TRADES.map(([id, en, es, stamp]) => ({
        id,
        name: { en, es },
        stamp,
        outdoor: true,
        setupMinutes,
        cleanupMinutes,
      })),
      crews,
      jobs,
      holds: listHolds(firstDate, random),
    },
  };
}

function makeCrew(
  place: number,
  trades: readonly string[],
  shift: [string, string],
  firstDate: CivilDate,
  random: Random,
): CrewInput {
  const saturday = addDays(firstDate, 5);
  const off = addDays(firstDate, random.below(10));
  return {
    id: (CREW_NAMES[place] ?? "").toLowerCase(),
    name: CREW_NAMES[place] ?? "",
    lead: LEADS[place] ?? "",
    // Who opens walls must close them by dark.
    size: place === 0 ? 3 + random.below(2) : 2 + random.below(3),
    trades: Object.fromEntries(trades.map((trade) => [trade, 0.8 + random.below(9) * 0.05])),
    week: { mon: shift, tue: shift, wed: shift, thu: shift, fri: shift },
    off: random.next() < 0.25 ? [{ from: off, to: addDays(off, random.below(2)), why: "leave" }] : [],
    extra: random.next() < 0.15 ? [{ date: saturday, hours: [shift[0], "13:00"], why: "catching up" }] : [],
  };
}

/** Sometimes a day of rain, sometimes a wet morning or afternoon: every trade of these companies is outdoors. */
function listHolds(firstDate: CivilDate, random: Random): HoldInput[] {
  const holds: HoldInput[] = [];
  const weekday = (): CivilDate => addDays(firstDate, random.below(2) * 7 + random.below(5));
  const add = (id: string, from: string, to: string): void => {
    holds.push({ id, from, to, trades: "outdoor", jobs: "all", why: "rain", source: "hand" });
  };
  if (random.next() < 0.35) {
    const date = weekday();
    add("h1", `${date}T00:00`, `${addDays(date, 1)}T00:00`);
  }
  if (random.next() < 0.3) {
    const date = weekday();
    if (random.next() < 0.5) add("h2", `${date}T00:00`, `${date}T10:00`);
    else add("h2", `${date}T12:00`, `${addDays(date, 1)}T00:00`);
  }
  return holds;
}
