/** When something was said, by the office's clock, of phones whose own clock is right, wrong or set in between. */
import { describe, expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import { parseInstant } from "../../src/domain/time.js";
import { toOfficeMinute } from "../../src/web/said-time.js";

const zone = "America/New_York";
const minute = (text: string): number => present(parseInstant(text, zone), text);
const NOW = minute("2026-12-03T16:00");
const said = (saidAt: string, sentAt: string) => toOfficeMinute(saidAt, sentAt, { nowMinute: NOW, zone });

describe("when something was said", () => {
  it.each([
    ["right", "2026-12-03T14:30:59-05:00", "2026-12-03T16:00:01-05:00", "14:30"],
    ["five minutes slow", "2026-12-03T14:30:00-05:00", "2026-12-03T15:55:00-05:00", "14:30"],
    ["12 days slow", "2026-11-21T14:30:00-05:00", "2026-11-21T16:00:30-05:00", "14:30"],
    ["3 hours fast", "2026-12-03T22:30:00Z", "2026-12-04T00:00:00Z", "14:30"],
    ["years slow", "1970-01-01T00:10:00.000Z", "1970-01-01T00:30:00.000Z", "15:40"],
    [
      "months slow, and in another zone by the time of sending",
      "2026-07-01T14:30:00-04:00",
      "2026-07-01T14:00:00-05:00",
      "15:30",
    ],
  ])("is told by the office's clock where the phone's is %s", (_what, saidAt, sentAt, expected) => {
    expect(said(saidAt, sentAt)).toBe(minute(`2026-12-03T${expected}`));
  });

  it("is now where it is sent at once, also over the full minute of a clock that is wrong", () => {
    expect(said("2026-11-21T15:59:59.900Z", "2026-11-21T16:00:00.100Z")).toBe(NOW);
  });

  it.each([
    ["its clock was set back in between", "2026-12-03T18:30:00-05:00", "2026-12-03T11:40:00-05:00"],
    ["that would be more than 31 days ago", "2026-11-20T09:00:00-05:00", "2026-12-22T09:00:00-05:00"],
    ["an older page says no time of sending", "2026-11-21T14:30:00-05:00", ""],
    ["the time of sending is nonsense", "2026-11-21T14:30:00-05:00", "soon"],
    ["the time of sending is a day", "2026-11-21T14:30:00-05:00", "2026-11-22"],
    ["the time of sending is in no zone", "2026-11-21T14:30:00-05:00", "2026-11-21T16:00:00"],
    ["it was said in no zone", "2026-11-21T14:30", "2026-11-21T16:00:00-05:00"],
  ])("is what the phone says where %s", (_what, saidAt, sentAt) => {
    expect(said(saidAt, sentAt)).toBe(minute(saidAt));
  });

  it("is unknown where it is no time, whenever it was sent", () => {
    expect(said("yesterday", "2026-12-03T16:00:00-05:00")).toBeUndefined();
  });
});
