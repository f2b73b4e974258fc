/** The HTML documents in a real browser: accessible, nothing clipped, nothing run, at three widths, light, dark and printed. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { type Campaign, evaluate } from "@alcedo-dosimetry/campaign";
import { memoryFolder, readFolder } from "@alcedo-dosimetry/exchange";
import { DOCUMENT_KINDS, htmlPage, reportDocument } from "@alcedo-dosimetry/report";
import axe, { type AxeResults } from "axe-core";
import type { Page } from "playwright-core";
import { afterAll, describe, expect, test } from "vitest";
import { closeBrowser, findBrowser, withPage } from "./browser.ts";
import { root } from "./repository-files.ts";

const browser = await findBrowser();
afterAll(closeBrowser);

const WIDTHS = [360, 768, 1280] as const;
const LONG = "Teilchenbeschleunigerfeldgrössenfaktormessung".repeat(12);
const MARKUP = '</td></table><script>document.title="harm"</script><img src=x onerror="document.title=1">';

/** The demonstration, its text changed file by file. */
function demonstration(change: (text: string, file: string) => string = (text) => text): Campaign {
  const folder = join(root, "examples/demonstration");
  const files = readdirSync(folder).map((file): [string, Uint8Array] => [
    file,
    new TextEncoder().encode(change(readFileSync(join(folder, file), "utf8"), file)),
  ]);
  const { campaign, findings } = readFolder(memoryFolder("demonstration", new Map(files)));
  if (!campaign) throw new Error(JSON.stringify(findings));
  return campaign;
}

/** Long words, markup and words from right to left in title and notes, a reading that stands alone, a default. */
const spoilt = demonstration((text, file) => {
  if (file === "datapackage.json")
    return text
      .replace('"positioning_u_mm": 0.1,', "")
      .replace("Cones and small fields", `${MARKUP.replaceAll('"', '\\"')} שדות קטנים ${LONG}`);
  if (file !== "output-factors.csv") return text;
  return text
    .replace(/^(r010,.*),$/m, `$1,"${MARKUP.replaceAll('"', '""')}"`)
    .replace(/^(r011,.*),$/m, `$1,${LONG}`)
    .replace(/^(r012,.*),,$/m, "$1,نبضة مفقودة,")
    .replace(/^(r031,(?:[^,]*,){6})[\d.]+/m, "$19.9999");
});

const pages = [
  ...DOCUMENT_KINDS.map((kind) => [kind, demonstration(), kind] as const),
  ["record of a spoilt campaign", spoilt, "record"] as const,
].map(([name, campaign, kind]) => [name, htmlPage(reportDocument(campaign, evaluate(campaign), { kind }))] as const);

/** Colours do not depend on the width: each of the two is looked at with another one. */
const LOOKS = [
  { width: 360, colorScheme: "light" },
  { width: 1280, colorScheme: "dark" },
] as const;

interface Look {
  readonly colorScheme?: "light" | "dark";
  readonly media?: "screen" | "print";
  readonly width: number;
}

async function show(page: Page, html: string, { width, ...media }: Look): Promise<void> {
  await page.setViewportSize({ width, height: 900 });
  await page.emulateMedia(media);
  await page.setContent(html);
}

/** What axe finds wrong under WCAG 2.2 AA and good practice. */
async function faults(page: Page): Promise<unknown[]> {
  await page.evaluate(axe.source);
  const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
  const found = await page.evaluate<AxeResults>(
    `axe.run(document, { runOnly: ${JSON.stringify(tags)}, resultTypes: ["violations"] })`,
  );
  return found.violations.map(({ id, nodes }) => ({ id, nodes: nodes.slice(0, 3).map(({ html }) => html) }));
}

/** The elements of that kind that reach beyond the right edge of the page. */
function beyond(page: Page, selector: string, inside = "none"): Promise<string[]> {
  return page.evaluate<string[]>(`[...document.querySelectorAll(${JSON.stringify(selector)})]
    .filter((element) => !element.closest(${JSON.stringify(inside)}))
    .filter((element) => element.getBoundingClientRect().right > innerWidth + 0.5)
    .map((element) => element.outerHTML.slice(0, 120))`);
}

describe.each(pages)("%s", (_, html) => {
  test.for(LOOKS)("passes axe at $width px, $colorScheme", async (look, { skip }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withPage(browser.path, async (page) => {
      await show(page, html, look);
      expect(await faults(page)).toEqual([]);
    });
  });

  test.for(WIDTHS)(
    "does not run out of the page at %i px: what is wider scrolls in a region of its own",
    async (width, { skip }) => {
      if ("missing" in browser) return skip(browser.missing);
      await withPage(browser.path, async (page) => {
        await show(page, html, { width });
        expect(await beyond(page, "body *", ".scroll")).toEqual([]);
        expect(await page.evaluate<number>("document.documentElement.scrollWidth")).toBeLessThanOrEqual(width);
      });
    },
  );

  test("runs nothing, whatever the campaign's words are", async ({ skip }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withPage(browser.path, async (page) => {
      const asked: string[] = [];
      page.on("request", (request) => asked.push(request.url()));
      await show(page, html, { width: 1280 });
      expect(await page.evaluate<number>(`document.querySelectorAll("script, img, link, iframe").length`)).toBe(0);
      expect(await page.title()).toMatch(/^(?:Full record|Table|Certificate)/);
      expect(asked.filter((url) => !url.startsWith("about:"))).toEqual([]);
    });
  });

  test("fits the width of the paper", async ({ skip }) => {
    if ("missing" in browser) return skip(browser.missing);
    await withPage(browser.path, async (page) => {
      // A4 less the margins, in CSS pixels
      await show(page, html, { width: Math.floor((180 / 25.4) * 96), media: "print" });
      expect(await beyond(page, "table, figure svg, p, dd")).toEqual([]);
    });
  });
});
