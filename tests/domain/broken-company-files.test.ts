/** Company files of the wrong shape: one valid file, small edits to it, and the exact sentences that each edit earns. */
import { describe, expect, it } from "vitest";
import { parseCompany } from "../../src/domain/company-file.js";
import { edited, faultsOf, OUT, TASK, validFile, type BrokenFile } from "../support/valid-file.js";

const broken: readonly BrokenFile[] = [
  // Shape
  [
    "of another format is refused",
    [["format", "daylap-company/2"]],
    ['format: "daylap-company/2" will not do: it must be "daylap-company/1".'],
  ],
  [
    "an unknown field is refused at its path",
    [[`${TASK}.labourHours`, 6]],
    ['jobs[0].tasks[3].labourHours: There is no field "labourHours" here. Did you mean "laborHours"?'],
  ],
  [
    "an unknown field that resembles none is to be taken out",
    [["policy", { colour: "red" }]],
    ['policy.colour: There is no field "colour" here. Take it out.'],
  ],
  [
    "a missing text is named",
    [["crews.0.lead", OUT]],
    ["crews[0].lead: This is missing: it must be a text in quotes."],
  ],
  [
    "a missing whole number is named",
    [["crews.0.size", OUT]],
    ["crews[0].size: This is missing: it must be a whole number of people."],
  ],
  [
    "a missing list is named",
    [["trades", OUT]],
    ["trades: This is missing: it must be a list in square brackets."],
  ],
  [
    "a number in quotes is no number",
    [["jobs.0.site.lat", "43.63"]],
    ['jobs[0].site.lat: "43.63" will not do: it must be a number.'],
  ],
  [
    "a list in the place of an object is told apart",
    [["policy", []]],
    ["policy: An empty list will not do: it must be an object in braces."],
  ],
  ["a crew of 0 is refused", [["crews.0.size", 0]], ["crews[0].size: 0 will not do: it must be at least 1."]],
  [
    "a crew of two and a half is refused",
    [["crews.1.size", 2.5]],
    ["crews[1].size: 2.5 will not do: it must be a whole number of people."],
  ],
  [
    "a pace of 0 is refused",
    [["crews.0.trades.wrb", 0]],
    ["crews[0].trades.wrb: 0 will not do: it must be a pace from 0.05 to 20."],
  ],
  [
    "negative hours are refused",
    [[`${TASK}.laborHours`, -2]],
    ["jobs[0].tasks[3].laborHours: -2 will not do: it must not be negative."],
  ],
  [
    "a task of 10,000 hours is refused",
    [[`${TASK}.laborHours`, 10_000]],
    ["jobs[0].tasks[3].laborHours: 10000 will not do: it must be at most 5,000 labor-hours."],
  ],
  [
    "NaN is no number",
    [[`${TASK}.laborHours`, NaN]],
    ["jobs[0].tasks[3].laborHours: NaN will not do: it must be a finite number."],
  ],
  [
    "infinite hours are refused",
    [[`${TASK}.laborHours`, Infinity]],
    ["jobs[0].tasks[3].laborHours: Infinity will not do: it must be a finite number."],
  ],
  [
    "a latitude out of range is refused",
    [["jobs.0.site.lat", 143.63]],
    ["jobs[0].site.lat: 143.63 will not do: it must be a latitude from -90 to 90."],
  ],
  [
    "a zone that does not exist is refused",
    [["company.timeZone", "America/Portland"]],
    [
      'company.timeZone: "America/Portland" is no time zone that exists (write an IANA name such as America/New_York).',
    ],
  ],
  [
    "a promised date that is no date is refused",
    [["jobs.0.promised", "2027-02-29"]],
    ['jobs[0].promised: "2027-02-29" is no date (write YYYY-MM-DD).'],
  ],
  [
    "a year that nobody means is refused",
    [[`${TASK}.notBefore`, "9027-03-01"]],
    ['jobs[0].tasks[3].notBefore: "9027-03-01" will not do: it must be in the years 2000 to 2099.'],
  ],
  [
    "a clock time that is none is refused",
    [["crews.1.week.mon", ["7:00", "15:30"]]],
    ['crews[1].week.mon[0]: "7:00" is no time of day (write HH:MM, 00:00 to 24:00).'],
  ],
  [
    "a shift of three times is refused",
    [["crews.1.week.mon", ["07:00", "12:00", "15:30"]]],
    ["crews[1].week.mon: A list will not do: it must have two entries."],
  ],
  [
    "a word that is none of the choices is refused with the choices",
    [["policy", { lastLight: "dusk" }]],
    ['policy.lastLight: "dusk" will not do: it must be "sunset" or "civil-dusk".'],
  ],
  [
    "a stamp of three letters is refused",
    [["trades.0.stamp", "TOF"]],
    ['trades[0].stamp: "TOF" will not do: it must be two capital letters.'],
  ],
  [
    "an id with a space is refused",
    [["equipment.0.id", "boom lift"]],
    [
      'equipment[0].id: "boom lift" will not do: it must be 1 to 64 letters, digits, dots, dashes or underscores.',
    ],
  ],
  [
    "an id that every object has already is refused",
    [["equipment.0.id", "constructor"]],
    ['equipment[0].id: "constructor" is a reserved word (choose another id).'],
  ],
  [
    "a hold on no known kind of trades is refused",
    [["holds.0.trades", "indoor"]],
    ['holds[0].trades: "indoor" will not do: it must be "outdoor", "all" or a list of trade ids.'],
  ],
  [
    "a rain chance over 100 is refused",
    [["trades.1.limits.rainChancePct", 150]],
    [
      "trades[1].limits.rainChancePct: 150 will not do: it must be a number from 0 to 100, or null for no limit.",
    ],
  ],
];

describe("a broken company file", () => {
  it("differs from one that is valid", () => {
    expect(faultsOf(validFile())).toEqual([]);
  });

  it.each(broken)("%s", (_rule, edits, sentences) => {
    expect(faultsOf(edited(edits))).toEqual(sentences);
  });

  it("is reported with all of its ten faults at once, in the order of the file", () => {
    const file = edited([
      ["company.timeZone", "Maine"],
      ["policy", { breakMinutes: -5 }],
      ["trades.0.stamp", "wb"],
      ["crews.0.size", 0],
      ["crews.1.off.0.to", "2027-03-18"],
      ["equipment.0.colour", "red"],
      ["jobs.0.promised", "next week"],
      ["jobs.0.tasks.0.after", [{ task: "t3" }]],
      [`${TASK}.crew`, "cedar"],
      ["holds.0.jobs", ["cove-4"]],
    ]);
    expect(faultsOf(file)).toEqual([
      'company.timeZone: "Maine" is no time zone that exists (write an IANA name such as America/New_York).',
      "policy.breakMinutes: -5 will not do: it must not be negative.",
      'trades[0].stamp: "wb" will not do: it must be two capital letters.',
      "crews[0].size: 0 will not do: it must be at least 1.",
      "crews[1].off[0].to: The days off end on 2027-03-18, before they begin on 2027-03-19. Exchange the two dates.",
      'equipment[0].colour: There is no field "colour" here. Take it out.',
      'jobs[0].promised: "next week" is no date (write YYYY-MM-DD).',
      'jobs[0].tasks: These tasks go in a circle, each before the next: t1 → t2 → t3 → t1. Take one of their "after" entries out.',
      'jobs[0].tasks[3].crew: There is no crew "cedar". Add it, or write "alder" or "birch".',
      'holds[0].jobs[0]: There is no job "cove-4". Did you mean "cove-3"?',
    ]);
  });

  it("has no cross-check on a part that cannot be read: a reference is not unknown while an id is illegible", () => {
    expect(faultsOf(edited([["crews.1.id", 7]]))).toEqual([
      "crews[1].id: 7 will not do: it must be a text in quotes.",
    ]);
    expect(faultsOf(edited([["trades", "all of them"]]))).toEqual([
      'trades: "all of them" will not do: it must be a list in square brackets.',
    ]);
    expect(faultsOf(edited([["crews", null]]))).toEqual([
      "crews: null will not do: it must be a list in square brackets.",
    ]);
  });

  it.each([
    ["nothing", undefined, "This is missing: it must be an object in braces."],
    ["a list", [], "An empty list will not do: it must be an object in braces."],
    ["a text", "company", '"company" will not do: it must be an object in braces.'],
  ])("that is %s and no object has one fault without a path", (_what, input, sentence) => {
    expect(parseCompany(input)).toEqual({ ok: false, error: [{ path: "", sentence }] });
  });

  it("has a key of the wrong shape reported once, and not as an unknown id too", () => {
    expect(faultsOf(edited([["crews.1.trades", { siding: 1, "side ing": 1 }]]))).toEqual([
      'crews[1].trades["side ing"]: "side ing" will not do: it must be 1 to 64 letters, digits, dots, dashes or underscores.',
    ]);
  });

  it("quotes a key that is no plain word in the path", () => {
    expect(faultsOf(edited([["crews.0.trades.tear-off", 99]]))).toEqual([
      'crews[0].trades["tear-off"]: 99 will not do: it must be a pace from 0.05 to 20.',
    ]);
  });
});
