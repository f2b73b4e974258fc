/** The workbench as people meet it: the built page and a real server on a fresh archive that holds the demonstration. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, relative } from "node:path";
import axe, { type AxeResults } from "axe-core";
import type { Page } from "playwright-core";
import { serve } from "../apps/server/src/running/serve.ts";
import { settingsFrom } from "../apps/server/src/running/settings.ts";
import { inThisThread } from "../apps/server/src/testing/in-this-thread.ts";
import { buildPage } from "../scripts/build-page.mjs";
import { root } from "./repository-files.ts";

/** The campaign that the archive holds at first. */
export const DEMONSTRATION = "demonstration-fernhill-cones";

/** A passphrase that all people of the tests have. */
export const PASSPHRASE = "invented words in a row";

/** A workbench that runs. */
export interface Site {
  /** `http://127.0.0.1:PORT` */
  readonly address: string;
  /** Where the first person sets a passphrase. */
  readonly first: string;
  readonly stop: () => Promise<void>;
}

/** The page, built from the sources as they are into a folder of its own. */
export interface BuiltPage {
  readonly folder: string;
  readonly remove: () => void;
}

/** Builds the page. */
export async function builtPage(): Promise<BuiltPage> {
  const folder = join(root, "tests/.cache", `page-${process.pid}`);
  await buildPage(relative(root, folder));
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** Starts a workbench on a fresh archive. */
export async function startSite({ folder }: BuiltPage): Promise<Site> {
  const home = mkdtempSync(join(tmpdir(), "alcedo-site-"));
  const settings = settingsFrom({
    ...{ ALCEDO_HOME: home, PORT: "0", ALCEDO_TAKE_IN: join(root, "examples/demonstration") },
  });
  const faults: string[] = [];
  const running = await serve(settings, {
    ...{
      work: inThisThread,
      page: folder,
      now: () => Date.now(),
      say: (line: string) => void (line.startsWith("fault of the program") && faults.push(line)),
    },
  });
  return {
    address: running.address.replace(/\/$/, ""),
    first: running.first!,
    stop: async () => {
      await running.stop();
      rmSync(home, { recursive: true, force: true });
      if (faults.length > 0) throw new Error(faults.join("\n"));
    },
  };
}

/** Goes through a one-time link as somebody new does. */
export async function becomePerson(page: Page, link: string, name: string): Promise<void> {
  await page.goto(link);
  await page.getByLabel("Name", { exact: true }).fill(name);
  await page.getByLabel("Passphrase", { exact: true }).fill(PASSPHRASE);
  await page.getByLabel("Passphrase, once more").fill(PASSPHRASE);
  await page.getByRole("button", { name: "Come in" }).click();
  await page.waitForURL(/#\/fibres$/);
  await page.getByRole("button", { name }).waitFor();
}

/** Logs in at the door. */
export async function logIn(page: Page, address: string, id: string): Promise<void> {
  await page.goto(address);
  await page.getByLabel("Short name").fill(id);
  await page.getByLabel("Passphrase").fill(PASSPHRASE);
  await page.getByRole("button", { name: "Log in" }).click();
  await page.getByLabel("Short name").waitFor({ state: "detached" });
}

/** What axe finds wrong under WCAG 2.2 AA and good practice, and what is wider than the screen. */
export async function faultsOf(page: Page): Promise<unknown[]> {
  await page.evaluate(axe.source);
  const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
  const { violations } = await page.evaluate<AxeResults>(
    `axe.run(document, { runOnly: ${JSON.stringify(tags)}, resultTypes: ["violations"] })`,
  );
  const wide = await page.evaluate<number>("document.documentElement.scrollWidth - innerWidth");
  return [
    ...violations.map(({ id, nodes }) => ({ id, nodes: nodes.slice(0, 3).map(({ html }) => html.slice(0, 200)) })),
    ...(wide > 0 ? [{ id: "wider than the screen", by: wide }] : []),
  ];
}

/** Complaints of the browser about the page's policy, from now on. */
export function policyComplaints(page: Page): string[] {
  const heard: string[] = [];
  page.on("console", (message) => {
    if (message.text().includes("Content Security Policy")) heard.push(message.text());
  });
  return heard;
}
