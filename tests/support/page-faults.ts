/**
 * What is wrong with a page for people: accessibility faults (axe), sideways scrolling, words that are cut off, targets
 * too small for a finger, controls under the bar at the bottom. Each list is empty where nothing is.
 */
import { AxeBuilder } from "@axe-core/playwright";
import type { Page } from "playwright-core";
import { expect } from "vitest";

/** WCAG 2.2, success criterion 2.5.5 (from memory). */
const LEAST_TARGET_PX = 44;
/** Phones of 390 and 320 px, and the same at 200 %. */
const CREW_WIDTHS = [390, 320, 195, 160] as const;

/** `contrast`: "enhanced" is 7 to 1, which crews need in the sun; "usual" is 4.5 to 1. */
type Contrast = "usual" | "enhanced";

/** Each fault of the page as it stands, with the element that has it. */
export async function listAccessFaults(page: Page, contrast: Contrast = "usual"): Promise<readonly string[]> {
  const { violations } = await new AxeBuilder({ page })
    // In one go, in the page itself: without it a second page is opened for each look, to join frames that we have none of.
    .setLegacyMode()
    .options({
      resultTypes: ["violations"],
      rules: {
        // Of WCAG 2.2 AA, and off by itself.
        "target-size": { enabled: true },
        // Whoever keeps 7 to 1 keeps 4.5 to 1.
        "color-contrast": { enabled: contrast === "usual" },
        "color-contrast-enhanced": { enabled: contrast === "enhanced" },
      },
    })
    .analyze();
  return violations.flatMap((rule) => rule.nodes.map((node) => `${rule.id}: ${node.html}`));
}

/** How far the page can be scrolled sideways, in px. */
export async function measureSideways(page: Page): Promise<number> {
  const seen = page.viewportSize()?.width ?? 0;
  // Not the window's own width: a phone's browser widens that until the page fits.
  return (await page.evaluate(() => document.documentElement.scrollWidth)) - seen;
}

/** Of the controls that a selector names; one that `byLabel` matches is as large as the label around it. */
export function listSmallTargets(
  page: Page,
  controls: string,
  byLabel: string | null = null,
): Promise<readonly string[]> {
  return page.evaluate(
    ({ least, all, labelled }) =>
      [...document.querySelectorAll(all)]
        .map((control) =>
          labelled !== null && control.matches(labelled) ? (control.closest("label") ?? control) : control,
        )
        .map((control) => ({ control, box: control.getBoundingClientRect() }))
        .filter(
          ({ control, box }) => control.checkVisibility() && Math.min(box.width, box.height) < least - 0.5,
        )
        .map(({ control, box }) => `${control.outerHTML}: ${box.width} x ${box.height} px`),
    { least: LEAST_TARGET_PX, all: controls, labelled: byLabel },
  );
}

/** Words that reach out of the screen or out of the box around them. A closed choice shows its words when it is opened. */
function listCutOff(page: Page): Promise<readonly string[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll("body *")]
      .filter((element) => element.checkVisibility() && element.closest(".unseen, select, input") === null)
      .filter((element) => {
        const { left, right } = element.getBoundingClientRect();
        const isWider = element.clientWidth > 0 && element.scrollWidth > element.clientWidth + 1;
        return left < -0.5 || right > innerWidth + 0.5 || isWider;
      })
      .map((element) => `${element.tagName}: ${element.textContent.trim().replaceAll(/\s+/g, " ")}`),
  );
}

/** Controls that are under the bar at the bottom while they have the focus, or when the page is scrolled to its end. */
function listCovered(page: Page): Promise<readonly string[]> {
  return page.evaluate(() => {
    const bar = document.querySelector(".thumbs");
    if (bar === null) return [];
    const room = bar.getBoundingClientRect().top;
    // One that takes more than there is room for, less what is kept free around it, is seen in half of the room at least.
    const isCovered = (control: Element): boolean => {
      const { top, bottom: end, height } = control.getBoundingClientRect();
      // Of a text of several lines a browser shows the one that is written in.
      const bottom = control.matches("textarea") ? top + height / Number(control.getAttribute("rows")) : end;
      return bottom > room + 0.5 && (height < room * 0.8 || room - top < room / 2);
    };
    const controls = [
      ...document.querySelectorAll<HTMLElement>("a[href], button, summary, input, select, textarea"),
    ].filter((control) => control.checkVisibility() && !bar.contains(control));
    const whenFocused = controls.filter((control) => {
      control.focus();
      return document.activeElement === control && isCovered(control);
    });
    document.documentElement.scrollTo(0, document.documentElement.scrollHeight);
    return [...new Set([...whenFocused, ...controls.filter(isCovered)])].map((control) => control.outerHTML);
  });
}

/** Opens all that is folded, so that what is in it is looked at too. */
export function unfold(page: Page): Promise<void> {
  return page.evaluate(() => {
    for (const details of document.querySelectorAll("details")) details.open = true;
  });
}

/** Expects no accessibility fault, and nothing that scrolls sideways. */
export async function expectSound(page: Page): Promise<void> {
  expect(await listAccessFaults(page)).toEqual([]);
  expect(await measureSideways(page)).toBeLessThanOrEqual(0);
}

/** The same, and no small target among the controls. */
export async function expectUsable(
  page: Page,
  controls: string,
  byLabel: string | null = null,
): Promise<void> {
  await expectSound(page);
  expect(await listSmallTargets(page, controls, byLabel)).toEqual([]);
}

/**
 * Expects of a page for crews, with all of it unfolded, what they need on a roof: contrast of 7 to 1 and no accessibility
 * fault; and on every phone, also at 200 %, nothing sideways, nothing cut off, every target large enough and none covered.
 */
export async function expectFitForCrews(page: Page): Promise<void> {
  await unfold(page);
  for (const width of CREW_WIDTHS) {
    await page.setViewportSize({ width, height: width * 2 });
    expect(await measureSideways(page), `sideways at ${width} px`).toBeLessThanOrEqual(0);
    expect(await listCutOff(page), `cut off at ${width} px`).toEqual([]);
    const controls = "a[href], button, summary, input:not([type=hidden]), select, textarea";
    expect(await listSmallTargets(page, controls), `small at ${width} px`).toEqual([]);
    expect(await listCovered(page), `covered at ${width} px`).toEqual([]);
    if (width === 320) expect(await listAccessFaults(page, "enhanced")).toEqual([]);
  }
}
