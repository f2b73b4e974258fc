/** Fibres and the campaign's chain in a real browser, on a real server: from a spreadsheet's block to a traced result. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Locator, Page } from "playwright-core";
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

/** Works on a fresh workbench, logged in as its first person. What goes wrong in the work is told before what its end says. */
async function withSite(work: (page: Page, site: Site) => Promise<void>): Promise<void> {
  const site = await startSite(built!);
  let failed = true;
  try {
    await withPage((browser as { path: string }).path, async (page) => {
      page.setDefaultTimeout(20_000);
      await page.setViewportSize({ width: 1440, height: 950 });
      const complaints = policyComplaints(page);
      await becomePerson(page, site.first, "Jo Doe");
      await work(page, site);
      expect(complaints).toEqual([]);
    });
    failed = false;
  } finally {
    const stopping = site.stop();
    if (failed) await stopping.catch(() => undefined);
    else await stopping;
  }
}

const openDemonstration = async (page: Page, site: Site) => {
  await page.goto(`${site.address}/#/campaign/${DEMONSTRATION}`);
  await result(page, "output-factor.cone-5").waitFor();
};

/** A result of the chain, wherever it stands first. */
const result = (page: Page, id: string): Locator => page.locator(`[data-quantity="${id}"]`).first();
const stage = (page: Page, id: string) => page.locator(`[data-stage="${id}"]`);

/** A cell of a grid: row from 0, column by its heading. */
async function cellOf(page: Page, table: string, row: number, column: string): Promise<Locator> {
  const grid = page.getByRole("grid", { name: `Readings: ${table}` });
  const heading = grid.getByRole("columnheader").filter({ has: page.getByText(column, { exact: true }) });
  const at = await heading.getAttribute("aria-colindex");
  // the header is the grid's first row
  return grid.locator(`[aria-rowindex="${row + 2}"] [aria-colindex="${at}"]`);
}

/** A table of the demonstration as a spreadsheet would hand it out, under other headings and with decimal commas. */
function spreadsheet(
  file: string,
  rename: Readonly<Record<string, string>>,
  order: (columns: string[]) => string[],
): string {
  const lines = readFileSync(join(root, `examples/demonstration/${file}.csv`), "utf8")
    .trim()
    .split("\n");
  const [header, ...rows] = lines.map((line) => line.split(","));
  const columns = order([...header!]);
  const written = rows.map((row) =>
    columns.map((name) => row[header!.indexOf(name)]!.replace(/^(-?\d+)\.(\d+)$/, "$1,$2")),
  );
  return [columns.map((name) => rename[name] ?? name), ...written].map((row) => row.join("\t")).join("\r\n");
}

/** What `Ctrl v` does with a block on the clipboard. */
async function paste(page: Page, text: string): Promise<void> {
  await page.evaluate(`(() => {
    const data = new DataTransfer();
    data.setData("text/plain", ${JSON.stringify(text)});
    const event = new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true });
    document.activeElement.dispatchEvent(event);
  })()`);
}

/** Takes a block into a stage that has its table already. */
async function takeBlock(page: Page, id: string, text: string, readings: number): Promise<void> {
  await stage(page, id).getByRole("button", { name: "Paste a block" }).click();
  await page.getByLabel("Block from a spreadsheet").fill(text);
  await page.getByRole("button", { name: `Take ${readings} readings` }).click();
  await page.getByRole("dialog").waitFor({ state: "detached" });
}

/** A campaign as the server has it on its disk. */
async function campaignOnDisk(page: Page, id: string) {
  return page.evaluate<{ tables: Record<string, { columns: string[]; rows: string[][]; decimal: string }> }>(
    `fetch("/api/campaigns/${id}").then((answer) => answer.json()).then(({ campaign }) => campaign)`,
  );
}

describe("a campaign from scratch", () => {
  test("takes four blocks out of a spreadsheet and gives the demonstration's own results", async ({ skip }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (page, site) => {
      await openDemonstration(page, site);
      const expected = await Promise.all(
        ["separation.stem-ratio", "calibration.coefficient"].map((id) => result(page, id).textContent()),
      );
      await page.goto(`${site.address}/#/fibres`);
      await page.getByRole("button", { name: "Start a campaign" }).click();
      const start = page.getByRole("dialog");
      await start.getByText("Still needed: a title, the fibre, the beam.").waitFor();
      await start.getByLabel("Title").fill("Cones, bunker 9 (invented)");
      await start.getByLabel("Fibre", { exact: true }).fill("F-0900");
      await start.getByLabel("Beam", { exact: true }).fill("B9-6FFF");
      await start.getByLabel("Temperature coefficient, 1/K").fill("-0,0009");
      await start.getByLabel("its standard uncertainty, 1/K").fill("0,0003");
      await start.getByRole("button", { name: "Start", exact: true }).click();
      await page.waitForURL(/#\/campaign\/cones-bunker-9-invented$/);

      await takeBlock(
        page,
        "background",
        spreadsheet("background", { signal_blue: "Blue (nC)", duration_s: "Integration time" }, (columns) =>
          columns.toReversed(),
        ),
        10,
      );
      await stage(page, "background").getByText("5 readings before, 5 readings after").waitFor();
      await takeBlock(
        page,
        "separation",
        spreadsheet("separation", { signal_green: "Green (nC)", mu: "Monitor units" }, (columns) => columns.toSorted()),
        18,
      );
      await result(page, "separation.stem-ratio").waitFor();
      await takeBlock(
        page,
        "calibration",
        spreadsheet("calibration", {}, (columns) => columns),
        5,
      );
      await result(page, "calibration.coefficient").waitFor();
      await takeBlock(
        page,
        "output-factors",
        spreadsheet("output-factors", { condition: "Cone" }, (columns) => columns),
        61,
      );
      await result(page, "output-factor.cone-5").waitFor();

      const found = await Promise.all(
        ["separation.stem-ratio", "calibration.coefficient"].map((id) => result(page, id).textContent()),
      );
      expect(found).toEqual(expected);
      await page.getByText("on disk", { exact: false }).first().waitFor();
      const { tables } = await campaignOnDisk(page, "cones-bunker-9-invented");
      expect(Object.values(tables).map(({ rows, decimal }) => [rows.length, decimal])).toEqual([
        [10, "."],
        [18, "."],
        [5, "."],
        [61, "."],
      ]);
      // numbers have taken the table's decimal sign, and nothing else has changed about them
      const blue = tables["background"]!.columns.indexOf("signal_blue");
      expect(tables["background"]!.rows[0]![blue]).toBe("0.0364");
    });
  });

  test("begins with a block on the clipboard, whose columns are recognised and may be chosen otherwise", async ({
    skip,
  }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (page, site) => {
      await page.goto(`${site.address}/#/fibres`);
      await page.getByRole("heading", { name: "Campaigns" }).waitFor();
      await paste(
        page,
        "Blue\tGreen\tArrangement\tPart\tGroup\tPMT temp\n6,50\t3,50\tlittle\tfit\ta\t21\n17,00\t17,50\tmuch\tfit\ta\t21\n",
      );
      const dialog = page.getByRole("dialog");
      await dialog.getByLabel("Title").fill("Quick look (invented)");
      await dialog.getByLabel("Fibre", { exact: true }).fill("F-0901");
      await dialog.getByLabel("Beam", { exact: true }).fill("B9-6FFF");
      await dialog.getByRole("button", { name: /These are readings of the/ }).click();
      await page.getByRole("option", { name: "separation" }).click();
      await dialog.getByRole("button", { name: "On to the columns" }).click();
      await page.getByText("Still empty: role").waitFor();
      await page.getByRole("button", { name: /^left out Part|Part/ }).click();
      await page.getByRole("option", { name: /^role/ }).click();
      await page.getByText(/decimal comma in the block\.$/).waitFor();
      await page.getByRole("button", { name: "Take 2 readings" }).click();
      await page.waitForURL(/#\/campaign\/quick-look-invented$/);
      await result(page, "separation.stem-ratio").waitFor();
      const { tables } = await campaignOnDisk(page, "quick-look-invented");
      expect(tables["separation"]!.decimal).toBe(",");
      expect(tables["separation"]!.columns).toEqual([
        ...["signal_blue", "signal_green", "condition", "role", "dose_group", "reading"],
      ]);
      expect(tables["separation"]!.rows[0]!.slice(0, 4)).toEqual(["6,50", "3,50", "little", "fit"]);

      // what a heading was taken for is remembered
      await stage(page, "separation").getByRole("button", { name: "Paste a block" }).click();
      await page.getByLabel("Block from a spreadsheet").fill("part\tBlue\tGreen\nverify\t1\t2\n");
      await page.getByRole("dialog").getByRole("button", { name: /part/ }).filter({ hasText: "role" }).waitFor();
    });
  });

  test("comes out of a file, the same bytes again", async ({ skip }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (page, site) => {
      const zip = await page.request.get(`${site.address}/api/campaigns/${DEMONSTRATION}/export?as=zip`);
      await page.goto(`${site.address}/#/fibres`);
      const file = { name: "again.zip", mimeType: "application/zip", buffer: await zip.body() };
      await page.locator("input[type=file]").setInputFiles(file);
      await page
        .getByRole("alert")
        .filter({ hasText: /already/ })
        .waitFor();
      await page
        .locator("input[type=file]")
        .setInputFiles({ ...file, name: "broken.zip", buffer: Buffer.from("no zip") });
      await page
        .getByRole("alert")
        .filter({ hasText: /zip|workbook/ })
        .waitFor();
    });
  });
});

describe("the chain", () => {
  test("follows what is typed while it is typed, takes it back with Esc, and keeps it with Enter", async ({ skip }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (page, site) => {
      await openDemonstration(page, site);
      const ratio = result(page, "separation.stem-ratio");
      const before = await ratio.textContent();
      const cell = await cellOf(page, "separation", 5, "blue");
      expect(await cell.textContent()).toBe("27.2473");
      await cell.click();
      await page.keyboard.type("27.4473");
      await expect.poll(() => ratio.textContent()).not.toBe(before);
      const typed = await ratio.textContent();
      await page.keyboard.press("Escape");
      await expect.poll(() => ratio.textContent()).toBe(before);
      await page.keyboard.type("27,4473"); // the comma is the person's; the table has points
      await page.keyboard.press("Enter");
      await expect.poll(() => ratio.textContent()).toBe(typed);
      await expect
        .poll(async () => (await campaignOnDisk(page, DEMONSTRATION)).tables["separation"]!.rows[5])
        .toContain("27.4473");
      // downstream of the change
      await stage(page, "output-factors").locator(".line-stirred").waitFor({ state: "attached" });
      await page.keyboard.press("Control+z");
      await expect.poll(() => ratio.textContent()).toBe(before);
      await expect
        .poll(async () => (await campaignOnDisk(page, DEMONSTRATION)).tables["separation"]!.rows[5])
        .toContain("27.2473");
    });
  });

  test("goes by keys alone: moves, fills down, empties, adds a row, pastes a block into cells", async ({ skip }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (page, site) => {
      await openDemonstration(page, site);
      await (await cellOf(page, "background", 0, "temperature")).click();
      await page.keyboard.type("25.5");
      await page.keyboard.press("Enter");
      await page.keyboard.press("Control+d");
      await page.keyboard.press("ArrowDown");
      await page.keyboard.press("Delete");
      const column = async (table: string, name: string) => {
        const { columns, rows } = (await campaignOnDisk(page, DEMONSTRATION)).tables[table]!;
        return rows.map((row) => row[columns.indexOf(name)]);
      };
      await expect
        .poll(async () => (await column("background", "temperature_C")).slice(0, 4))
        .toEqual(["25.5", "25.5", "", "21.9"]);
      await (await cellOf(page, "background", 10, "blue")).click();
      await paste(page, "0,0371\t0,0197\n0,0370\t0,0196\n");
      await expect
        .poll(async () => (await column("background", "signal_green")).slice(-3))
        .toEqual(["0.0197", "0.0197", "0.0196"]);
      expect((await column("background", "reading")).slice(-2)).toEqual(["b011", "b012"]);
      expect((await column("background", "condition")).slice(-2)).toEqual(["after", "after"]);
    });
  });

  test("leads from a result by its trace down to a reading, and from a finding to its cell", async ({ skip }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (page, site) => {
      await openDemonstration(page, site);
      await result(page, "output-factor.cone-5").focus();
      await page.keyboard.press("Enter");
      const trace = page.getByRole("complementary");
      await trace.getByRole("heading", { name: "field output factor of cone-5" }).waitFor();
      await trace.getByText("Where its uncertainty comes from").waitFor();
      await trace.getByText("What to improve first").waitFor();
      // upstream: the corrected signal, then the net signal of the first channel, then its readings
      await trace.locator(".formula-go").filter({ hasText: "Scone-5" }).first().click();
      await trace.getByRole("heading", { name: "corrected signal, normalised, cone-5" }).waitFor();
      await trace.locator(".formula-go").first().click();
      await trace.getByRole("heading", { name: "net signal, normalised, blue, cone-5" }).waitFor();
      await trace.getByRole("button", { name: "r052", exact: true }).click();
      const cell = await cellOf(page, "output-factors", 51, "reading");
      await expect.poll(() => cell.getAttribute("aria-selected")).toBe("true");
      expect(await cell.textContent()).toBe("r052");
      await page.keyboard.press("Escape");

      // a slip of the decimal sign is a finding, which leads back to its cell
      const slipped = await cellOf(page, "output-factors", 51, "blue");
      await slipped.click();
      await page.keyboard.type("40.092");
      await page.keyboard.press("Enter");
      const note = stage(page, "output-factors").locator(".finding").filter({ hasText: "r052" }).first();
      await note.waitFor();
      await page.evaluate("scrollTo(0, 0)");
      await note.getByRole("button", { name: /go to/ }).click();
      await expect.poll(() => cell.or(slipped).first().isVisible()).toBe(true);
    });
  });

  test("leaves a reading out on trial, side by side, then for good with a reason; and takes another assumption", async ({
    skip,
  }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (page, site) => {
      await openDemonstration(page, site);
      const factor = result(page, "output-factor.cone-5");
      const before = await factor.textContent();
      await page.getByRole("button", { name: "What if", exact: true }).click();
      const panel = page.getByRole("complementary", { name: "What if" });
      await panel.getByText("Another assumption").click();
      await panel.getByLabel("Centring, mm").fill("0.5");
      const change = panel.locator(".what-if-changes li").filter({ hasText: "field output factor of cone-5" });
      await change.waitFor();
      expect(await change.textContent()).toContain(before!.trim());
      expect(await factor.textContent()).toBe(before);
      expect(JSON.stringify(await campaignOnDisk(page, DEMONSTRATION))).not.toContain('"positioning_u_mm":0.5');
      await panel.getByRole("button", { name: "Keep it" }).click();
      await expect.poll(() => factor.textContent()).not.toBe(before);
      await expect
        .poll(async () => JSON.stringify(await campaignOnDisk(page, DEMONSTRATION)))
        .toContain('"positioning_u_mm":0.5');

      await (await cellOf(page, "calibration", 1, "blue")).click();
      await page.keyboard.press("Alt+x");
      const dialog = page.getByRole("dialog", { name: "Leave out c002" });
      await dialog.getByLabel("Reason").fill("door opened (invented)");
      await page.keyboard.press("Enter");
      await stage(page, "calibration").locator(".readings-out").waitFor();
      await expect
        .poll(async () => (await campaignOnDisk(page, DEMONSTRATION)).tables["calibration"]!.rows[1])
        .toContain("door opened (invented)");
      expect((await campaignOnDisk(page, DEMONSTRATION)).tables["calibration"]!.rows).toHaveLength(5);

      await page.getByRole("link", { name: "History" }).click();
      await page.getByRole("row").filter({ hasText: "calibration: c002 left out: door opened (invented)" }).waitFor();
      await page.getByRole("button", { name: "Take the last change back" }).click();
      await page.getByRole("row").filter({ hasText: "undo: calibration: c002 left out" }).waitFor();
      expect(JSON.stringify((await campaignOnDisk(page, DEMONSTRATION)).tables["calibration"])).not.toContain(
        "door opened",
      );
    });
  });

  test("shows numbers with the person's decimal sign", async ({ skip }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (page, site) => {
      await openDemonstration(page, site);
      await page.getByRole("button", { name: "Jo Doe" }).click();
      await page.getByRole("menuitem", { name: /with a comma/ }).click();
      await expect.poll(() => result(page, "output-factor.cone-5").textContent()).toMatch(/^0,49\d\d\(\d\d\)$/);
      expect(await (await cellOf(page, "separation", 0, "blue")).textContent()).toBe("10,4426");
      expect((await campaignOnDisk(page, DEMONSTRATION)).tables["separation"]!.rows[0]).toContain("10.4426");
    });
  });

  test("has the server keep the very evaluation that the page shows", async ({ skip }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (page, site) => {
      await openDemonstration(page, site);
      await page.getByText("on disk, evaluation kept").waitFor();
      expect(await page.getByText("The server's evaluation is not the page's").count()).toBe(0);
    });
  });
});

describe("two browsers at once", () => {
  test("see each other's changes, lose none, and are told of a cell that both changed", async ({ skip }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (one, site) => {
      await openDemonstration(one, site);
      await withPage((browser as { path: string }).path, async (shared) => {
        const context = await shared
          .context()
          .browser()!
          .newContext({ viewport: { width: 1440, height: 950 } });
        const two = await context.newPage();
        await logIn(two, site.address, "jo.doe");
        await openDemonstration(two, site);
        await (await cellOf(one, "separation", 0, "blue")).click();
        await one.keyboard.type("10.4500");
        await one.keyboard.press("Enter");
        const there = await cellOf(two, "separation", 0, "blue");
        await expect.poll(() => there.textContent()).toBe("10.4500");
        // the second cannot hear, and types into the same cell and into another
        await two.route("**/edits", (route) => route.abort());
        await (await cellOf(two, "separation", 1, "blue")).click();
        await two.keyboard.type("10.4600");
        await two.keyboard.press("Enter");
        await (await cellOf(two, "separation", 2, "green")).click();
        await two.keyboard.type("5.6300");
        await two.keyboard.press("Enter");
        await two.getByText("2 changes not yet on disk").waitFor();
        await (await cellOf(one, "separation", 1, "blue")).click();
        await one.keyboard.type("10.4700");
        await one.keyboard.press("Enter");
        await expect
          .poll(async () => (await campaignOnDisk(one, DEMONSTRATION)).tables["separation"]!.rows[1])
          .toContain("10.4700");
        await two.unroute("**/edits");
        const conflict = two.locator(".conflict").filter({ hasText: "s002" });
        await conflict.waitFor({ timeout: 20_000 });
        expect(await conflict.textContent()).toMatch(
          /separation, s002, signal_blue.*was 10\.4259.*mine: 10\.4600.*theirs: 10\.4700/,
        );
        await expect
          .poll(() => cellOf(one, "separation", 2, "green").then((cell) => cell.textContent()))
          .toBe("5.6300");
        expect((await campaignOnDisk(one, DEMONSTRATION)).tables["separation"]!.rows[1]).toContain("10.4700");
        await conflict.getByRole("button", { name: /take mine/ }).click();
        await expect
          .poll(() => cellOf(one, "separation", 1, "blue").then((cell) => cell.textContent()))
          .toBe("10.4600");
        await conflict.waitFor({ state: "detached" });
        await context.close();
      });
    });
  });
});

describe("people", () => {
  test("are invited by a link that makes one person", async ({ skip }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withSite(async (page, site) => {
      await page.goto(`${site.address}/#/people`);
      await page.getByLabel("Name", { exact: true }).fill("Al Roe");
      await page.getByLabel("Known as").fill("al.roe");
      await page.getByRole("button", { name: "Make a link" }).click();
      const link = await page.locator(".people-address").textContent();
      await withPage((browser as { path: string }).path, async (shared) => {
        const context = await shared.context().browser()!.newContext();
        const other = await context.newPage();
        await becomePerson(other, link!, "Al Roe");
        await context.close();
      });
      await page.getByRole("row").filter({ hasText: "al.roe" }).waitFor();
    });
  });
});

describe.each(["light", "dark"] as const)("in the %s theme", (colorScheme) => {
  test.each([1440, 768])("every page and sheet is accessible and fits, %d px wide", async (width) => {
    if ("missing" in browser) return;
    await withSite(async (page, site) => {
      await page.emulateMedia({ colorScheme, reducedMotion: "reduce" });
      await page.setViewportSize({ width, height: 950 });
      const faults: Record<string, unknown[]> = {};
      const look = async (name: string) => {
        const found = await faultsOf(page);
        if (found.length > 0) faults[name] = found;
      };
      await page.goto(`${site.address}/#/fibres`);
      await page.getByRole("region", { name: "Fibre F-0317" }).waitFor();
      await look("fibres");
      await page.getByRole("button", { name: "Start a campaign" }).click();
      await page.getByRole("dialog").waitFor();
      await look("start");
      await page.keyboard.press("Escape");
      await openDemonstration(page, site);
      await look("campaign");
      await result(page, "output-factor.cone-5").click();
      await page.getByText("What to improve first").waitFor();
      await look("trace");
      await page.getByRole("button", { name: "Close the origin" }).click();
      await page.getByRole("button", { name: "What if", exact: true }).click();
      await page.getByText("Another separation").click();
      await look("what if");
      await page.keyboard.press("Escape");
      await page.getByRole("button", { name: "Set-up", exact: true }).click();
      await page.getByRole("dialog").waitFor();
      await look("set-up");
      await page.keyboard.press("Escape");
      await stage(page, "calibration").getByRole("button", { name: "Paste a block" }).click();
      await page.getByLabel("Block from a spreadsheet").fill("Blue\tGreen\n1\t2\n");
      await look("block");
      await page.keyboard.press("Escape");
      await page.getByRole("link", { name: "History" }).click();
      await page.getByRole("region", { name: "Changes" }).waitFor();
      await look("history");
      await page.goto(`${site.address}/#/people`);
      await page.getByRole("table").waitFor();
      await look("people");
      expect(faults).toEqual({});
    });
  });
});
