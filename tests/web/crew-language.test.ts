/** The language of a crew: set by the office, followed by the sheet, switched on it, and spoken by refusals. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import { openPeople } from "../../src/services/people.js";
import { PUBLISHED_COMPANY } from "../support/published-company.js";
import { good } from "../support/people.js";
import { startServer, type TestServer } from "../support/server.js";
import { Visitor } from "./visitor.js";

const BY = { personId: null, personName: "Robin" };

let app: TestServer;
beforeAll(async () => {
  app = await startServer(PUBLISHED_COMPANY, "2026-12-03T12:00");
});
afterAll(() => app.stop());

const textOf = async (path: string): Promise<string> => (await fetch(app.url + path)).text();
const switchTo = async (language: string, version?: string): Promise<Response> => {
  const form = /action="\/crews\/alder\/language"><input type="hidden" name="version" value="(\d+)">/;
  const seen = version ?? present(form.exec(await textOf("/crews"))?.[1], "the form of Alder");
  return fetch(`${app.url}/crews/alder/language`, {
    method: "POST",
    headers: { origin: app.url },
    body: new URLSearchParams({ language, version: seen }),
    redirect: "manual",
  });
};

describe("a crew's language", () => {
  it("is English at first, and the sheet follows what the office sets, with a switch to the other one", async () => {
    expect(await textOf("/crew/alder/2026-12-04")).toContain('<html lang="en">');
    expect((await switchTo("es")).status).toBe(303);
    const sheet = await textOf("/crew/alder/2026-12-04");
    expect(sheet).toContain('<html lang="es">');
    expect(sheet).toContain('href="/crew/alder/2026-12-04?lang=en"');
    const english = await textOf("/crew/alder/2026-12-04?lang=en");
    expect(english).toContain('<html lang="en">');
    expect(english).toContain('href="/crew/alder/2026-12-03?lang=en"');
    expect(english).toContain('href="/crew/alder/2026-12-04"');
    expect(await textOf("/crew/alder/2026-12-04/print")).toContain('<html lang="es">');
    expect(await textOf("/crew/birch/2026-12-04")).toContain('<html lang="en">');
    expect(await textOf("/record")).toContain("Alder reads Spanish instead of English.");
  });

  it("is not set to another language, by an old form, or to what it is", async () => {
    expect((await switchTo("fr")).status).toBe(422);
    expect((await switchTo("en", "1")).status).toBe(409);
    const same = await switchTo("es");
    expect(same.status).toBe(409);
    expect(await same.text()).toContain("Alder reads Spanish already.");
  });
});

describe("a refusal to a crew's phone", () => {
  it("is said in English and in Spanish", async () => {
    const phones = await startServer(PUBLISHED_COMPANY, "2026-12-03T12:00", {});
    try {
      const people = openPeople(phones.database);
      const token = good(await people.makePrivateLink("crew", { id: "alder", name: "Alder" }, BY));
      const phone = new Visitor(phones);
      await phone.get(`/link/${token}`);
      for (const [path, english, spanish] of [
        [
          "/crew/birch",
          "Your link opens the day sheets of your own crew",
          "Su enlace abre las hojas del día",
        ],
        ["/crew/alder/tomorrow", "is no date", "no es una fecha"],
        [`/link/${"a".repeat(43)}`, "This link opens nothing any more", "Este enlace ya no abre nada"],
        ["/crew/alder/no/such", "There is no page", "No hay ninguna página"],
      ] as const) {
        const page = await phone.textOf(path);
        expect(page).toContain(english);
        expect(page).toContain('<div lang="es">');
        expect(page).toContain(spanish);
      }
      good(await people.revokePrivateLink("crew", { id: "alder", name: "Alder" }, BY));
      expect(await phone.textOf("/crew/alder")).toContain("Este enlace ya no abre nada");
    } finally {
      await phones.stop();
    }
  });
});
