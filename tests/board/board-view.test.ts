/** The story-pole board as finished text: read against the fixture of 8 December 2026. */
import { describe, expect, it } from "vitest";
import { buildBoardView, type BoardView } from "../../src/board/board-view.js";
import { buildReading } from "../../src/board/reading.js";
import { civilDate } from "../../src/domain/time.js";
import { decemberCompany, decemberPlan } from "./december-fixture.js";

const boardOf = (date: string): BoardView =>
  buildBoardView(buildReading(decemberCompany(), decemberPlan()), civilDate(date));
const board = boardOf("2026-12-08");
const linesOf = (crew: string): readonly string[] =>
  board.poles
    .find((pole) => pole.crewId === crew)
    ?.tags.map((tag) => (tag.isShort ? tag.line : `${tag.heading} | ${tag.detail}`)) ?? [];

describe("the board of a date", () => {
  it("has a pole for each crew that is called out, in the company's order", () => {
    expect(board.poles.map((pole) => pole.crewName)).toEqual(["Alder", "Birch", "Cedar"]);
  });

  it("says for each crew at home why it is there", () => {
    expect(board.atHome).toEqual(["Dune: no work that can be done that day", "Elm: off (training)"]);
  });

  it("tells a crew's day in order, with the drive's miles and the light in hand", () => {
    expect(linesOf("alder")).toEqual([
      "load up · 15 min",
      "from the yard 3 mi · 11 min",
      "set up · 20 min",
      "7:46 14 Tern Lane | Siding, left side · units 1–2 of 4",
      "break · 30 min",
      "12:30 14 Tern Lane | Siding, left side · units 3–4 of 4",
      "clean up · 30 min",
      "tools down 2:50",
      "to the yard 3 mi · 11 min",
      "19 min of light in hand",
    ]);
  });

  it("takes consecutive work on one task as one tag", () => {
    expect(linesOf("alder").filter((line) => line.includes("Siding"))).toHaveLength(2);
  });

  it("puts tools down before the cleanup that starts at the same minute", () => {
    const lines = linesOf("birch");
    expect(lines.indexOf("tools down 3:00")).toBe(lines.indexOf("clean up · 30 min") - 1);
  });

  it("says how much of the shift the dark takes, as what needs attention", () => {
    expect(board.poles.at(-1)?.tags.at(-1)).toMatchObject({
      line: "dark takes 11 min of the shift",
      needsAttention: true,
    });
  });

  it("names the house again in a short tag only where the crew has come from another", () => {
    expect(linesOf("birch")).toContain("12:30 Set windows, front · unit 2 of 3");
    expect(linesOf("cedar")).toContain("2:56 14 Tern Lane · Caulk the left side");
  });

  it("draws the sun of the first house worked: up, down, and the end of outdoor work a margin before sunset", () => {
    expect(board.facts).toEqual([
      "sun up 7:02 am",
      "sets 4:04 pm",
      "outdoor work and cleanup end by 3:49 pm",
      "light as at 3 Gull Street",
    ]);
  });

  it("goes from night over day to night, from top to bottom", () => {
    const percents = board.ground.map((stop) => Number(stop.percent));
    expect(board.ground.map((stop) => stop.tone)).toEqual([
      "night",
      "twilight",
      "sun",
      "day",
      "day",
      "day",
      "sun",
      "twilight",
      "night",
    ]);
    expect(percents).toEqual([...percents].sort((a, b) => a - b));
  });

  it("starts at a whole hour before dawn, and writes no hour where a sun mark stands", () => {
    const hours = board.marks.filter((mark) => mark.kind === "hour").map((mark) => mark.text);
    expect(hours).toEqual(["6 am", "8 am", "9 am", "10 am", "11 am", "noon", "1 pm", "2 pm", "3 pm", "5 pm"]);
  });

  it("lists what could not be planned or kept, with the reason", () => {
    expect(board.impossible).toEqual([
      {
        jobId: "pilot-5",
        what: "5 Pilot Way: Side the dormer",
        why: "No crew with siding is free before the plan ends.",
      },
    ]);
    expect(board.unkept.map((item) => item.what)).toEqual(["3 Gull Street: Mount blocks"]);
  });

  it("lists the holds of the day, and not those of other days", () => {
    expect(board.holds.map((hold) => hold.why)).toEqual(["gusts to 38 mph"]);
    expect(boardOf("2026-12-09").holds.map((hold) => hold.why)).toEqual(["rain all day"]);
  });

  it("shows each figure of the cost beside the total", () => {
    expect(board.cost.rows.map((row) => [row.amount, row.price, row.cost])).toEqual([
      ["0", "300", "0"],
      ["5.5", "40", "220"],
      ["1", "60", "60"],
      ["2", "50", "100"],
      ["0", "500", "0"],
      ["0", "90", "0"],
    ]);
    expect(board.cost.total).toBe("380");
  });

  it("names the trades of its stamps", () => {
    expect(board.legend.map((item) => `${item.stamp.letters} ${item.name}`)).toEqual([
      "RF Reframe",
      "WN Windows",
      "SD Siding",
      "ST Stone",
      "CK Caulk and paint",
    ]);
  });
});

describe("a date on which nobody is called out", () => {
  it("has no pole and points to the next day with work", () => {
    const empty = boardOf("2026-12-09");
    expect(empty.poles).toEqual([]);
    expect(empty).toMatchObject({ previous: "2026-12-08", next: "2026-12-10", nextCalledOut: "2026-12-10" });
  });

  it("points nowhere where there is no work after it", () => {
    expect(boardOf("2027-06-01").nextCalledOut).toBeUndefined();
  });
});

describe("a company without a yard and without houses", () => {
  it("still has a board for any date", () => {
    const company = { ...decemberCompany(), jobs: [], crews: [] };
    const bare = { ...company, company: { ...company.company, yard: null } };
    const plan = decemberPlan({ blocks: [], tasks: [], days: [], impossible: [], unkept: [] });
    const view = buildBoardView(buildReading(bare, plan), civilDate("2026-12-08"));
    expect(view).toMatchObject({ facts: [], poles: [], chalkRem: undefined });
  });
});
