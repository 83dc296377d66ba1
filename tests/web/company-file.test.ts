/** The company file in the browser: the first one, download, upload with a look at what changes, and loading it. */
import { gunzipSync, gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { parseCompanyText } from "../../src/domain/company-file.js";
import { present } from "../../src/domain/result.js";
import { packFile, unpackFile } from "../../src/web/packed-file.js";
import { EDITED_COMPANY, useEditing, type Editing } from "./editing.js";

const editing = useEditing();
const TEXT = JSON.stringify(EDITED_COMPANY);

/** The same company with a house less, another crew size and one more hold. */
const OTHER = (() => {
  const file = JSON.parse(TEXT) as { crews: object[]; jobs: object[]; holds: object[] };
  const crews = file.crews.map((crew, index) => (index === 1 ? { ...crew, size: 5 } : crew));
  const hold = {
    id: "gale",
    from: "2026-12-14",
    to: "2026-12-15",
    trades: "all",
    jobs: "all",
    why: "a gale",
  };
  return JSON.stringify({ ...file, crews, jobs: file.jobs.slice(0, 1), holds: [...file.holds, hold] });
})();

/** Uploads a file as the page's form does; or a pasted text. */
async function upload({ app }: Editing, fields: { readonly file?: BlobPart; readonly text?: string }) {
  const body = new FormData();
  body.append(
    "file",
    new Blob(fields.file === undefined ? [] : [fields.file]),
    fields.file === undefined ? "" : "company.json",
  );
  body.append("text", fields.text ?? "");
  const response = await fetch(`${app.url}/company-file/preview`, {
    method: "POST",
    body,
    headers: { origin: app.url },
  });
  return { status: response.status, page: await response.text() };
}

/** The fields that the page of the second step sends. */
function fieldsOf(page: string): { readonly version: string; readonly file: string } {
  const field = (name: string): string =>
    present(new RegExp(`name="${name}" value="([^"]*)"`).exec(page)?.[1], name);
  return { version: field("version"), file: field("file") };
}

describe("without a company", () => {
  it("every page of the office leads to where one is loaded", async () => {
    const house = await editing.open();
    for (const path of [
      "/",
      "/jobs",
      "/jobs/x",
      "/waiting",
      "/holds",
      "/crews",
      "/record",
      "/plans",
      "/board/2026-12-04",
    ]) {
      const response = await house.app.get(path);
      expect([path, response.status, response.headers.get("location")]).toEqual([path, 303, "/company-file"]);
    }
    expect((await house.app.get("/company-file/download")).status).toBe(404);
  });

  it("the demo company is one button away, laid around the app's own day", async () => {
    const house = await editing.open();
    expect(await house.page("/company-file")).toContain("Begin with the demo company");
    const sent = await house.post("/company-file/demo", {});
    expect([sent.status, sent.location]).toEqual([303, "/"]);
    expect((await house.app.get("/")).status).toBe(200);
    expect(house.desk.current().today).toBe("2026-12-03");
    expect((await house.post("/company-file/demo", {})).status).toBe(409);
  });

  it("a company file is looked at and then loaded, and the board is there", async () => {
    const house = await editing.open();
    const first = await upload(house, { file: TEXT });
    expect(first.status).toBe(200);
    expect(first.page).toContain("This is what it holds.");
    expect(first.page).toContain("12 Harbor Road; 3 Cove Street");
    expect(house.desk.isEmpty).toBe(true);
    const sent = await house.post("/company-file/load", { ...fieldsOf(first.page), reason: "first day" });
    expect([sent.status, sent.location]).toEqual([303, "/"]);
    expect(await house.record.list({ limit: 5 })).toMatchObject([
      { sentence: "Company file of Tern Rock Exteriors loaded.", why: "first day", personName: "Robin" },
    ]);
  });
});

describe("a downloaded company file", () => {
  it("is a file of its own name that loads to the same company", async () => {
    const house = await editing.open(EDITED_COMPANY);
    const response = await house.app.get("/company-file/download");
    expect(response.headers.get("content-disposition")).toBe(
      "attachment; filename=daylap-company-2026-12-03.json",
    );
    expect(response.headers.get("content-type")).toContain("application/json");
    const text = await response.text();
    expect(text).toContain('\n  "company": {');
    expect(parseCompanyText(text)).toEqual(parseCompanyText(TEXT));
    expect((await upload(house, { file: text })).page).toContain("<strong>nothing</strong>");
  });
});

describe("an uploaded company file", () => {
  it("is shown against what stands, by kind and by name, and changes nothing yet", async () => {
    const house = await editing.open(EDITED_COMPANY);
    const { status, page } = await upload(house, { file: OTHER });
    expect(status).toBe(200);
    expect(page).toContain("<strong>1 added, 1 removed, 1 changed</strong>");
    expect(page).toContain("<strong>Removed (1):</strong> 3 Cove Street");
    expect(page).toContain("<strong>Added (1):</strong> a gale");
    expect(page).toContain('<th scope="row">Size</th><td>3</td><td>5</td>');
    expect(house.desk.current().version).toBe(1);
  });

  it("is loaded as it was shown", async () => {
    const house = await editing.open(EDITED_COMPANY);
    const { page } = await upload(house, { file: OTHER });
    expect((await house.post("/company-file/load", fieldsOf(page))).status).toBe(303);
    expect(house.desk.current().company).toEqual(parsed(OTHER));
  });

  it("that is a backup says what of it is not loaded here", async () => {
    const house = await editing.open(EDITED_COMPANY);
    const { status, page } = await upload(house, {
      file: JSON.stringify({ ...JSON.parse(OTHER), office: {} }),
    });
    expect([status, page.includes("The file is a backup. Only the company in it is loaded")]).toEqual([
      200,
      true,
    ]);
  });

  it("may be pasted", async () => {
    const house = await editing.open(EDITED_COMPANY);
    expect((await upload(house, { text: OTHER })).page).toContain("Look at it first");
  });

  it("with faults shows all of them with their places, and keeps what was pasted", async () => {
    const house = await editing.open(EDITED_COMPANY);
    const broken = OTHER.replace('"size":5', '"size":0').replace('"laborHours":6', '"laborHours":-6');
    const { status, page } = await upload(house, { text: broken });
    expect(status).toBe(422);
    expect(page).toContain("2 things are wrong");
    expect(page).toContain("<code>crews[1].size</code>: ");
    expect(page).toContain("<code>jobs[0].tasks[0].laborHours</code>: ");
    expect(page).toContain("&#34;size&#34;:0");
    expect(house.desk.current().version).toBe(1);
  });

  it.each([
    ["nothing", {}, "Choose a company file, or paste one."],
    ["both at once", { file: OTHER, text: OTHER }, "Give one of the two."],
    ["no JSON", { file: "{" }, "This is no JSON: in line 1, column 2"],
    ["no text", { file: new Uint8Array([0xff, 0xfe, 0x00]) }, "The file is no text in UTF-8"],
    ["too much", { file: "x".repeat(20 * 1024 * 1024 + 1) }, "The file is larger than 20 MB"],
  ])("that is %s is refused with a sentence", async (_what, fields, sentence) => {
    const house = await editing.open(EDITED_COMPANY);
    const { status, page } = await upload(house, fields);
    expect(status).toBe(422);
    expect(page).toContain(sentence);
  });

  it.each(["text/plain", "multipart/form-data", "multipart/form-data; boundary=x", "application/json"])(
    "in a form of the kind %s is refused with a sentence",
    async (type) => {
      const house = await editing.open(EDITED_COMPANY);
      const headers = { origin: house.app.url, "content-type": type };
      const response = await fetch(`${house.app.url}/company-file/preview`, {
        method: "POST",
        body: "--x\r\nhello",
        headers,
      });
      expect(response.status).toBe(422);
    },
  );

  it("is shown again where the company has changed between the look and the load", async () => {
    const house = await editing.open(EDITED_COMPANY);
    const { page } = await upload(house, { file: OTHER });
    await house.casey({ kind: "promise-moved", job: "harbor-12", promised: "2026-12-09" });
    const sent = await house.post("/company-file/load", { ...fieldsOf(page), reason: "new week" });
    expect(sent.status).toBe(409);
    expect(sent.page).toContain("The company has been changed since this was shown, so nothing was loaded.");
    expect(sent.page).toContain("<td>Wed 9 Dec 2026</td><td>Fri 4 Dec 2026</td>");
    expect(sent.page).toContain('value="new week"');
    expect(house.desk.current().version).toBe(2);
    expect((await house.post("/company-file/load", fieldsOf(sent.page))).status).toBe(303);
  });

  it("that does not come back as it was shown is not loaded", async () => {
    const house = await editing.open(EDITED_COMPANY);
    const { version, file } = fieldsOf((await upload(house, { file: OTHER })).page);
    const forged = `${file.split(".")[0] ?? ""}.${gzipSync(TEXT).toString("base64url")}`;
    for (const fields of [
      { version, file: forged },
      { version, file: "" },
      { version, file: "x.y" },
      { file },
    ]) {
      const sent = await house.post("/company-file/load", fields);
      expect(sent.status).toBe(422);
      expect(sent.page).toContain("The file did not come back as it was shown");
    }
    expect(house.desk.current().version).toBe(1);
  });

  it("from elsewhere is not even read", async () => {
    const house = await editing.open(EDITED_COMPANY);
    for (const path of ["preview", "load", "demo"]) {
      const response = await house.app.post(
        `/company-file/${path}`,
        {},
        { origin: "https://elsewhere.example" },
      );
      expect(response.status).toBe(403);
    }
  });
});

describe("a packed file", () => {
  it("comes back as it was", async () => {
    const packed = await packFile("é\u2028 {}");
    expect(packed).toMatch(/^[\w-]+\.[\w-]+$/);
    expect(await unpackFile(packed)).toBe("é\u2028 {}");
    expect(gunzipSync(Buffer.from(packed.split(".")[1] ?? "", "base64url")).toString()).toBe("é\u2028 {}");
  });

  it("of more than a page can have sent is not unpacked", async () => {
    const bomb = gzipSync(Buffer.alloc(41 * 1024 * 1024)).toString("base64url");
    expect(await unpackFile(`x.${bomb}`)).toBeUndefined();
  });
});

function parsed(text: string): unknown {
  const result = parseCompanyText(text);
  return result.ok ? result.value : undefined;
}
