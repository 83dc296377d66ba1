/**
 * What is wrong with a page for people: accessibility faults (axe), sideways scrolling, targets too small for a finger.
 * Each list is empty where nothing is.
 */
import { AxeBuilder } from "@axe-core/playwright";
import type { Page } from "playwright-core";
import { expect } from "vitest";

/** WCAG 2.2, success criterion 2.5.5 (from memory). */
const LEAST_TARGET_PX = 44;

/** Each fault of the page as it stands, with the element that has it. */
export async function listAccessFaults(page: Page): Promise<readonly string[]> {
  const { violations } = await new AxeBuilder({ page }).analyze();
  return violations.flatMap((rule) => rule.nodes.map((node) => `${rule.id}: ${node.html}`));
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
        .filter(
          (control) => control.checkVisibility() && control.getBoundingClientRect().height < least - 0.5,
        )
        .map((control) => `${control.outerHTML}: ${control.getBoundingClientRect().height} px`),
    { least: LEAST_TARGET_PX, all: controls, labelled: byLabel },
  );
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
  const sideways = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  expect(sideways).toBeLessThanOrEqual(0);
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
