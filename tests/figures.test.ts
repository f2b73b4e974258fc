import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { afterAll, describe, expect, test } from "vitest";
import { closeBrowser, findBrowser, withPage } from "./browser.ts";
import { type DrawnFigure, drawFolder } from "./figures-workload.ts";

const browser = await findBrowser();
const folder = new URL("../examples/demonstration/", import.meta.url);
const demonstration = Object.fromEntries(
  readdirSync(folder).map((file) => [file, readFileSync(new URL(file, folder), "utf8")]),
);

/** The demonstration with a reference set whose sources have names to stumble over. */
const compared = {
  ...demonstration,
  "datapackage.json": demonstration["datapackage.json"]!.replace(
    '"resources": [',
    '"resources": [ { "name": "reference-set", "path": "reference-set.csv", "alcedo": { "series": "reference-set" } },',
  ),
  "reference-set.csv": [
    "condition,equivalent_square_mm,output_factor,u_percent,source",
    "10x10,,0.70,1,<script>document.title='run'</script>",
    ...[4, 8, 20, 70].map((size) => `,${size},${0.5 + size / 200},1,עברית ${"a very long name ".repeat(12)}`),
  ].join("\n"),
};

/** What a browser finds wrong with the texts of the figures on a page, measured with the fonts that it has. */
const LOOK = `(() => {
  const found = [];
  for (const svg of document.querySelectorAll("svg")) {
    const name = svg.querySelector("title").textContent;
    const frame = svg.getBoundingClientRect();
    const texts = [...svg.querySelectorAll("text")]
      .map((text) => ({ text: text.lastChild ? text.lastChild.textContent : "", box: text.getBoundingClientRect() }))
      .filter(({ text }) => text !== "");
    for (const [k, { text, box }] of texts.entries()) {
      if (box.left < frame.left || box.right > frame.right || box.top < frame.top || box.bottom > frame.bottom)
        found.push(name + ": " + text + " is cut off");
      for (const other of texts.slice(k + 1)) {
        const across = Math.min(box.right, other.box.right) - Math.max(box.left, other.box.left);
        const down = Math.min(box.bottom, other.box.bottom) - Math.max(box.top, other.box.top);
        // the box of a line is taller than its letters: a fifth of its height is empty above and below
        if (across > 1 && down > 0.4 * Math.min(box.height, other.box.height))
          found.push(name + ": " + text + " | " + other.text);
      }
    }
  }
  return { found, title: document.title, drawn: document.querySelectorAll("svg").length };
})()`;

afterAll(closeBrowser);

/** A page that holds figures and allows nothing but itself to be shown. */
const strictPage = (figures: readonly DrawnFigure[]) =>
  `<!doctype html><meta http-equiv="Content-Security-Policy" content="default-src 'none'"><title>figures</title>${figures.map(({ svg }) => svg).join("")}`;

test("Node and Chromium draw the same figures, to the last byte", async ({ skip }) => {
  if ("missing" in browser) return skip(browser.missing);
  const { outputFiles } = await build({
    entryPoints: [fileURLToPath(new URL("figures-workload.ts", import.meta.url))],
    bundle: true,
    write: false,
    format: "iife",
    globalName: "workload",
    platform: "browser",
    target: "es2023",
    logLevel: "silent",
  });
  const inBrowser = await withPage(browser.path, async (page) => {
    await page.addScriptTag({ content: outputFiles[0]!.text });
    return page.evaluate<DrawnFigure[]>(`workload.drawFolder(${JSON.stringify(compared)}, "light")`);
  });
  const inNode = drawFolder(compared, "light");
  expect(inNode.length).toBeGreaterThan(20);
  for (const [k, figure] of inNode.entries()) expect(inBrowser[k]).toEqual(figure);
});

describe.each([
  ["the demonstration", demonstration],
  ["a reference set with names to stumble over", compared],
])("%s on a page with a strict policy", (_, files) => {
  test.for(["light", "dark", "print"] as const)(
    "is shown in full (%s): nothing blocked, cut off or overprinted",
    async (theme, { skip }) => {
      if ("missing" in browser) return skip(browser.missing);
      const figures = drawFolder(files, theme);
      const seen = await withPage(browser.path, async (page) => {
        const complaints: string[] = [];
        page.on("console", (message) => complaints.push(message.text()));
        await page.setContent(strictPage(figures));
        const faults = await page.evaluate<{ found: string[]; title: string; drawn: number }>(LOOK);
        return { ...faults, complaints };
      });
      expect(seen).toEqual({ found: [], title: "figures", drawn: figures.length, complaints: [] });
    },
  );
});

test("assistive technology finds every figure as an image, by its title and its description", async ({ skip }) => {
  if ("missing" in browser) return skip(browser.missing);
  const figures = drawFolder(demonstration, "light");
  await withPage(browser.path, async (page) => {
    await page.setContent(strictPage(figures));
    for (const { title, description } of figures)
      expect(await page.getByRole("img", { name: `${title} ${description}`, exact: true }).count()).toBe(1);
  });
});

test("the look at the page sees a text that is cut off, and one that lies on another", async ({ skip }) => {
  if ("missing" in browser) return skip(browser.missing);
  const text = (x: number, words: string) => `<text x="${x}" y="20">${words}</text>`;
  const svg = `<svg width="200" height="40"><title>t</title>${text(10, "one")}${text(20, "two")}${text(180, "three")}</svg>`;
  const { found } = await withPage(browser.path, async (page) => {
    await page.setContent(strictPage([{ id: "a", title: "a", description: "a", svg }]));
    return page.evaluate<{ found: string[] }>(LOOK);
  });
  expect(found).toEqual(["t: one | two", "t: three is cut off"]);
});

test("the page's policy is strict: it blocks an inline style, and says so", async ({ skip }) => {
  if ("missing" in browser) return skip(browser.missing);
  const complaints = await withPage(browser.path, async (page) => {
    const heard: string[] = [];
    page.on("console", (message) => heard.push(message.text()));
    const svg = '<svg><rect style="fill:red"/></svg>';
    await page.setContent(strictPage([{ id: "a", title: "a", description: "a", svg }]));
    return heard;
  });
  expect(complaints.join()).toContain("Content Security Policy");
});
