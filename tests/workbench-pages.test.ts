/** Console, signing, report and learning in a real browser, on a real server. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { closeBrowser, findBrowser, withPage } from "./browser.ts";
import { root } from "./repository-files.ts";
import {
  type BuiltPage,
  becomePerson,
  builtPage,
  DEMONSTRATION,
  faultsOf,
  logIn,
  PASSPHRASE,
  policyComplaints,
  type Site,
  startSite,
} from "./workbench-site.ts";

const browser = await findBrowser();
let built: BuiltPage | undefined;
beforeAll(async () => {
  if (!("missing" in browser)) built = await builtPage();
});
afterAll(async () => {
  await closeBrowser();
  built?.remove();
});

/** Other tests work at the same time, and an evaluation by two routes takes its seconds. */
const PATIENCE = 60_000;

/** Works on a fresh workbench, logged in as its first person. */
async function withSite(work: (page: Page, site: Site) => Promise<void>): Promise<void> {
  const site = await startSite(built!);
  try {
    await withPage((browser as { path: string }).path, async (page) => {
      page.setDefaultTimeout(PATIENCE);
      const complaints = policyComplaints(page);
      await becomePerson(page, site.first, "Jo Doe");
      await work(page, site);
      expect(complaints).toEqual([]);
    });
  } finally {
    await site.stop();
  }
}

const open = async (page: Page, site: Site, under: string) => {
  await page.goto(`${site.address}/#/campaign/${DEMONSTRATION}/${under}`);
};

/** The rows of a table, as the server has it on its disk. */
async function rowsOnDisk(page: Page, table: string): Promise<string[][]> {
  return page.evaluate<string[][]>(
    `fetch("/api/campaigns/${DEMONSTRATION}").then((answer) => answer.json()).then(({ campaign }) => campaign.tables["${table}"].rows)`,
  );
}

/** Types a reading at the console, field by field. */
async function typeReading(page: Page, ...texts: readonly string[]): Promise<void> {
  for (const text of texts) {
    await page.keyboard.type(text);
    await page.keyboard.press("Enter");
  }
}

describe("the console", () => {
  test("takes a reading by keyboard alone: kept, evaluated, and at its end on the disk", async ({ skip }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (page, site) => {
      await open(page, site, "console");
      await page.getByRole("heading", { name: "100x100, reading 6" }).waitFor();
      await typeReading(page, "10.4402", "5.6201", "12.344");
      await page.getByRole("heading", { name: "100x100, reading 7" }).waitFor();
      await page.getByText("every entry is on disk").waitFor();
      const added = (await rowsOnDisk(page, "output-factors")).at(-1)!;
      expect(added.slice(0, 2)).toEqual(["r062", "100x100"]);
      expect(added).toContain("10.4402");
      expect(added[2]).toMatch(/^20\d\d-\d\d-\d\dT\d\d:\d\d:\d\d[+-]\d\d:\d\d$/);
      await page.getByText("Enough.").waitFor();
    });
  });

  test("says at once that a reading does not fit, and leaves it out with a reason", async ({ skip }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (page, site) => {
      await open(page, site, "console");
      await page.getByRole("heading", { name: "100x100, reading 6" }).waitFor();
      await typeReading(page, "104.402", "5.6201", "12.344");
      const alert = page.getByRole("alert").filter({ hasText: "Redo this one." });
      await alert.waitFor();
      expect(await alert.textContent()).toContain("r062 is 10.0 times the mean of its repeats in blue.");
      expect(await alert.textContent()).toContain("The decimal sign may have slipped.");
      await page.keyboard.press("x");
      await page.getByLabel("Leave r062 out, because:").waitFor();
      await page.keyboard.type("mistyped");
      await page.keyboard.press("Enter");
      await page.getByText("left out: mistyped").waitFor();
      await alert.waitFor({ state: "detached" });
      await page.getByText("every entry is on disk").waitFor();
      const added = (await rowsOnDisk(page, "output-factors")).at(-1)!;
      expect(added).toContain("mistyped");
      expect(added).toContain("jo.doe");
    });
  });

  test("corrects the last reading: Backspace on nothing opens it again", async ({ skip }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (page, site) => {
      await open(page, site, "console");
      await page.getByRole("heading", { name: "100x100, reading 6" }).waitFor();
      await page.keyboard.press("Backspace");
      await page.getByRole("heading", { name: "100x100, correcting r061" }).waitFor();
      // the last field is open, with what stands there
      await page.keyboard.press("Control+a");
      await page.keyboard.type("12.111");
      await page.keyboard.press("Enter");
      await page.getByRole("heading", { name: "100x100, reading 6" }).waitFor();
      await page.getByText("every entry is on disk").waitFor();
      const rows = await rowsOnDisk(page, "output-factors");
      expect(rows.find(([reading]) => reading === "r061")).toContain("12.111");
      expect(rows).toHaveLength(61);
    });
  });

  test("keeps what is typed while no server answers, through a reload of the page, and sends it when one does", async ({
    skip,
  }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (page, site) => {
      await open(page, site, "console");
      await page.getByRole("heading", { name: "100x100, reading 6" }).waitFor();
      await page.route("**/edits", (route) => route.abort());
      await typeReading(page, "10.4402", "5.6201", "12.344");
      await typeReading(page, "10.4388", "5.6190", "12.340");
      await page.getByRole("heading", { name: "100x100, reading 8" }).waitFor();
      await page.getByText("2 entries not yet on disk").waitFor();
      expect(await page.getByText("□ not yet on disk").count()).toBe(2);
      expect(await rowsOnDisk(page, "output-factors")).toHaveLength(61);
      await page.unroute("**/edits");
      await page.reload();
      await page.getByRole("heading", { name: "100x100, reading 8" }).waitFor();
      await page.getByText("every entry is on disk").waitFor();
      const rows = await rowsOnDisk(page, "output-factors");
      expect(rows.slice(-2).map(([reading]) => reading)).toEqual(["r062", "r063"]);
      expect(rows).toHaveLength(63);
    });
  });

  test("measures a new condition, goes along the run with the arrows, and back to the campaign with Esc", async ({
    skip,
  }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (page, site) => {
      await open(page, site, "console");
      await page.getByRole("heading", { name: "100x100, reading 6" }).waitFor();
      await page.keyboard.press("ArrowUp");
      await page.getByRole("heading", { name: /^cone-5, reading 1$/ }).waitFor();
      await page.keyboard.press("c");
      await page.getByLabel("Name of the condition").fill("cone-4");
      await page.getByRole("button", { name: /role/ }).click();
      await page.getByRole("option", { name: "field" }).click();
      await page.getByRole("button", { name: /shape/ }).click();
      await page.getByRole("option", { name: "circle" }).click();
      await page.getByLabel("diameter_mm").fill("4");
      await page.getByRole("button", { name: "Measure it" }).click();
      await page.getByRole("heading", { name: "cone-4, reading 1" }).waitFor();
      await typeReading(page, "4.4402", "1.6201", "12.344");
      await page.getByRole("heading", { name: "cone-4, reading 2" }).waitFor();
      await page.getByText("every entry is on disk").waitFor();
      const added = (await rowsOnDisk(page, "output-factors")).at(-1)!;
      expect(added).toEqual(expect.arrayContaining(["cone-4", "field", "circle", "4"]));
      await page.keyboard.press("Escape");
      await page.waitForURL(new RegExp(`#/campaign/${DEMONSTRATION}$`));
    });
  });
});

describe("signing", () => {
  test("one measures and signs; another returns it; changed, it is signed again and agreed with from paper; a later change is seen", async ({
    skip,
  }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (page, site) => {
      await open(page, site, "sign");
      const sign = page.getByRole("button", { name: "Sign: I measured this" });
      const passphrase = page.getByLabel("Your passphrase");
      await page
        .getByText(/sha256:[0-9a-f]{64}/)
        .nth(1)
        .waitFor();
      await passphrase.fill("another set of words");
      await sign.click();
      await page
        .getByText(/passphrase is wrong|wrong/i)
        .first()
        .waitFor();
      await passphrase.fill(PASSPHRASE);
      await sign.click();
      await page.getByText("You have signed as the one who measured").waitFor();
      const { link } = await page.evaluate<{ link: string }>(
        `fetch("/api/people", { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify({ id: "ro.roe", name: "Ro Roe" }) }).then((answer) => answer.json())`,
      );

      await withPage((browser as { path: string }).path, async (second) => {
        await becomePerson(second, link, "Ro Roe");
        await open(second, site, "sign");
        await second.getByRole("heading", { name: "By a second, independent route" }).waitFor({ timeout: 60_000 });
        await second.getByText(/figures agree/).waitFor();
        await second.getByRole("button", { name: "or return it with a reason" }).click();
        await second.getByLabel("What is to be done").fill("r034: say why it stands apart");
        await second.getByLabel("Your passphrase").fill(PASSPHRASE);
        await second.getByRole("button", { name: "Return it" }).click();
        await second.getByRole("heading", { name: "△ Returned by ro.roe" }).waitFor();
      });

      await page.getByText("r034: say why it stands apart").first().waitFor(); // without a reload
      await open(page, site, "console");
      await page.getByRole("heading", { name: "100x100, reading 6" }).waitFor();
      await typeReading(page, ...READ_AGAIN);
      await page.getByText("every entry is on disk").waitFor();
      await open(page, site, "sign");
      await page
        .getByText(/sha256:[0-9a-f]{64}/)
        .nth(1)
        .waitFor();
      await passphrase.fill(PASSPHRASE);
      await sign.click();
      await page.getByText("You have signed as the one who measured").waitFor();

      await withPage((browser as { path: string }).path, async (second) => {
        await logIn(second, site.address, "ro.roe");
        await open(second, site, "sign");
        await second.getByRole("heading", { name: "From paper" }).waitFor({ timeout: 60_000 });
        const agree = second.getByRole("button", { name: "Sign: I agree" });
        await second.getByLabel("Your passphrase").fill(PASSPHRASE);
        expect(await agree.isDisabled()).toBe(true);
        for (const group of await second.locator(".sign-reading").all()) {
          const [reading, table] = (await group.locator("legend").textContent())!.split(/\s+/) as [string, string];
          for (const column of await group.locator("label").allTextContents())
            await group.getByLabel(column).fill(onPaper(table, reading, column));
        }
        await agree.click();
        await second.getByText("Both have signed.").waitFor();
        expect(await second.getByRole("row").filter({ hasText: "reviewed, agrees" }).count()).toBe(1);
      });

      // a later change is a new version, and says through which input
      await open(page, site, "console");
      await page.getByRole("heading", { name: "100x100, reading 7" }).waitFor();
      await typeReading(page, "10.4902", "5.6201", "12.344");
      await page.getByText("every entry is on disk").waitFor();
      await open(page, site, "sign");
      const since = page.getByRole("region", { name: "Figures that changed" });
      await since.waitFor();
      expect(await since.textContent()).toContain("r063");
      await sign.waitFor();
    });
  });
});

/** The reading that the measurer adds after the review: blue, green and monitor. */
const READ_AGAIN = ["10.4402", "5.6201", "12.344"] as const;

/** What the measurer's notes say: the demonstration's own files, and the reading that was added. */
function onPaper(table: string, reading: string, column: string): string {
  const own = ["signal_blue", "signal_green", "monitor"].indexOf(column);
  if (reading === "r062") return own < 0 ? onPaper(table, "r061", column) : READ_AGAIN[own]!; // set up as the one before
  const [header, ...rows] = readFileSync(join(root, `examples/demonstration/${table}.csv`), "utf8")
    .split("\n")
    .map((line) => line.split(","));
  return rows.find(([name]) => name === reading)![header!.indexOf(column)]!;
}

describe("the report", () => {
  test("is looked at in a frame that runs nothing, and taken along as PDF, HTML, workbook and folder", async ({
    skip,
  }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (page, site) => {
      await open(page, site, "report");
      const frame = page.frameLocator("iframe");
      await frame.getByRole("heading", { name: "Question and answer" }).waitFor();
      await page.getByLabel(/Certificate/).check();
      await frame
        .getByText(/Certificate of characterisation/)
        .first()
        .waitFor();
      for (const [name, start] of [
        [/PDF$/, "%PDF-"],
        [/^HTML$/, "<!doctype html>"],
        ["Readings as a workbook", "PK"],
        ["Campaign folder, zipped", "PK"],
      ] as const) {
        const coming = page.waitForEvent("download");
        await page.getByRole("link", { name }).click();
        const bytes = readFileSync(await (await coming).path());
        expect(bytes.subarray(0, start.length).toString("latin1").toLowerCase()).toBe(start.toLowerCase());
        expect(bytes.length).toBeGreaterThan(1000);
      }
    });
  });
});

describe("learning", () => {
  test("the virtual fibre is moved by keyboard, and what it shows follows", async ({ skip }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (page, site) => {
      await page.goto(`${site.address}/#/learn`);
      const light = page.getByRole("row").filter({ hasText: "moved by you" });
      await light.waitFor();
      const before = await light.textContent();
      await page.getByRole("slider", { name: "Fibre in the beam, moved by you" }).focus();
      for (let k = 0; k < 6; k++) await page.keyboard.press("ArrowRight");
      await expect.poll(async () => light.textContent(), { timeout: PATIENCE }).toContain("120 mm in the beam");
      expect(await light.textContent()).not.toBe(before);
      // out of the slider, so that digits are chapters
      await page.keyboard.press("5");
      await page.getByRole("heading", { name: "When it fails" }).waitFor();
      await page.getByText(/kept aside and reads/).waitFor();
      await page.getByRole("button", { name: "channels swapped" }).click();
      await page.getByText("broken", { exact: true }).first().waitFor();
      await page.getByText("no result").first().waitFor();
      await page.keyboard.press("?");
      await page.getByRole("dialog", { name: "Keys" }).getByText("read everything again, with other noise").waitFor();
    });
  });
});

describe("every page of these", () => {
  // colours do not depend on the width: each of the two is looked at with another one
  test.for([
    { width: 1440, colorScheme: "dark" },
    { width: 768, colorScheme: "light" },
  ] as const)("passes axe and fits the screen at $width px, $colorScheme", async ({ width, colorScheme }, { skip }) => {
    if ("missing" in browser) return skip(browser.missing);
    const site = await startSite(built!);
    try {
      await withPage(browser.path, async (page) => {
        await page.setViewportSize({ width, height: 1000 });
        await page.emulateMedia({ colorScheme });
        const complaints = policyComplaints(page);
        const found: Record<string, unknown[]> = {};
        await page.goto(site.first);
        await page.getByRole("button", { name: "Come in" }).click(); // with its complaints
        found["first"] = await faultsOf(page);
        await page.goto(site.address);
        await page.getByRole("button", { name: "Log in" }).waitFor();
        found["login"] = await faultsOf(page);
        await becomePerson(page, site.first, "Jo Doe");
        await open(page, site, "console");
        await page.getByRole("heading", { name: "100x100, reading 6" }).waitFor();
        found["console"] = await faultsOf(page);
        await page.keyboard.press("?");
        await page.getByRole("dialog", { name: "Keys" }).waitFor();
        found["keys"] = await faultsOf(page);
        await page.keyboard.press("Escape");
        await open(page, site, "sign");
        await page
          .getByText(/sha256:[0-9a-f]{64}/)
          .nth(1)
          .waitFor();
        found["sign"] = await faultsOf(page);
        await open(page, site, "report");
        await page.frameLocator("iframe").getByRole("heading", { name: "Question and answer" }).waitFor();
        found["report"] = await faultsOf(page);
        await page.goto(`${site.address}/#/learn`);
        await page.getByText("What the program notices").waitFor();
        found["learn"] = await faultsOf(page);
        expect(found).toEqual(Object.fromEntries(Object.keys(found).map((name) => [name, []])));
        expect(complaints).toEqual([]);
      });
    } finally {
      await site.stop();
    }
  });
});
