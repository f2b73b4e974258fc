/** What a spreadsheet program makes of our workbooks; run by scripts/workbook-in-spreadsheet.mjs. */
import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { type Campaign, digest, evaluate } from "@alcedo-dosimetry/campaign";
import { readCampaignWorkbook, writeCampaignWorkbook } from "@alcedo-dosimetry/exchange/workbook";
import { resultsWorkbook } from "@alcedo-dosimetry/report/workbook";
import { REGIMES, simulate } from "@alcedo-dosimetry/simulator";
import { cellReference, readWorkbook, type Workbook } from "@alcedo-dosimetry/tabular/workbook";
import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { exportedCampaign } from "../../packages/report/src/testing/exported-campaign.ts";

const LIMITS = { rows: 100_000, columns: 1000, unpacked: 2 ** 28, sheets: 100 };
/** Values that a spreadsheet computed may differ from ours by the order of its additions. */
const TOLERANCE = 1e-9;

const soffice = process.env["SOFFICE"] ?? "soffice";
const folder = resolve(process.argv[2] ?? mkdtempSync(join(tmpdir(), "alcedo-spreadsheet-")));
mkdirSync(folder, { recursive: true });
let faults = 0;

function say(sound: boolean, what: string): void {
  if (!sound) faults += 1;
  console.log(`${sound ? "●" : "✕"} ${what}`);
}

/** Has the program open a file and save it in another format; gives the path of what it saved. */
function converted(name: string, format: string, target: string): string {
  const out = join(folder, target);
  const run = spawnSync(soffice, ["--headless", "--convert-to", format, "--outdir", out, join(folder, name)], {
    encoding: "utf8",
  });
  if (run.error)
    throw new Error(`${soffice} cannot be started: install Debian's libreoffice-calc, or name the program in SOFFICE`);
  if (run.status !== 0) throw new Error(run.stderr);
  return join(out, name.replace(/\.xlsx$/, `.${format.split(":")[0]}`));
}

/** The workbook without the values beside its formulas, so that what comes back is what the program computed. */
function withoutValues(bytes: Uint8Array): Uint8Array {
  const parts = Object.entries(unzipSync(bytes)).map(([name, content]) => {
    const text = strFromU8(content);
    return [
      name,
      name.includes("/worksheets/") ? strToU8(text.replace(/<\/f><v>[^<]*<\/v>/g, "</f>")) : content,
    ] as const;
  });
  return zipSync(Object.fromEntries(parts));
}

/** Every cell of a workbook by its address. */
function cellsOf({ sheets }: Workbook) {
  return new Map(
    sheets.flatMap(({ name, rows }) =>
      rows.flatMap(({ number, cells }) =>
        cells.map((cell) => [`${name}!${cellReference(cell.column, number)}`, cell] as const),
      ),
    ),
  );
}

function checkResults(name: string, campaign: Campaign): void {
  const bytes = resultsWorkbook(campaign, evaluate(campaign));
  writeFileSync(join(folder, `${name}.xlsx`), bytes);
  writeFileSync(join(folder, `${name}-bare.xlsx`), withoutValues(bytes));
  const ours = cellsOf(readWorkbook(bytes, LIMITS));
  const theirs = cellsOf(readWorkbook(readFileSync(converted(`${name}-bare.xlsx`, "xlsx", "saved")), LIMITS));
  const formulas = [...ours].filter(([, cell]) => cell.formula);
  const errors = [...theirs].filter(([, { content }]) => content.kind === "error" || content.kind === "uncomputed");
  say(
    errors.length === 0,
    `${name}: ${errors.length} cells with errors ${errors
      .slice(0, 3)
      .map(([at]) => at)
      .join(", ")}`,
  );
  const wrong = formulas.filter(([at, { content }]) => {
    const own = theirs.get(at);
    if (!own?.formula || own.content.kind !== "number" || content.kind !== "number") return true;
    const [a, b] = [Number(content.text), Number(own.content.text)];
    return !(Math.abs(a - b) <= TOLERANCE * Math.max(Math.abs(a), 1e-12));
  });
  say(
    formulas.length > 0 && wrong.length === 0,
    `${name}: ${formulas.length} formulas, ${wrong.length} of them not computed to the value that we wrote ${wrong
      .slice(0, 3)
      .map(([at]) => at)
      .join(", ")}`,
  );
  const texts = [...ours].filter(([, { content, formula }]) => content.kind === "text" && !formula);
  const changed = texts.filter(([at, { content }]) => {
    const own = theirs.get(at);
    return own?.formula || own?.content.kind !== "text" || own.content.text !== (content as { text: string }).text;
  });
  say(
    changed.length === 0,
    `${name}: ${texts.length} texts, ${changed.length} changed ${changed
      .slice(0, 3)
      .map(([at]) => at)
      .join(", ")}`,
  );
}

function checkCampaign(name: string, campaign: Campaign): void {
  writeFileSync(join(folder, `${name}.xlsx`), writeCampaignWorkbook(campaign));
  const again = readCampaignWorkbook(readFileSync(converted(`${name}.xlsx`, "xlsx", "saved")), `${name}.xlsx`);
  const same = again.campaign !== undefined && digest(again.campaign) === digest(campaign);
  say(
    same,
    `${name}: ${same ? "the same campaign" : `not the same campaign: ${again.findings[0]?.message}`} after the program saved it`,
  );
}

const simulated = simulate(REGIMES["five-repeats"](), 12).campaign;
checkResults("results-simulated", simulated);
checkResults("results-harmful", exportedCampaign());
checkCampaign("campaign-simulated", simulated);
checkCampaign("campaign-harmful", exportedCampaign());
for (const name of ["results-harmful.xlsx", "results-simulated.xlsx", "campaign-simulated.xlsx"]) {
  const pdf = converted(name, "pdf", "pages");
  const pages = spawnSync("pdftoppm", ["-r", "80", "-png", pdf, pdf.replace(/\.pdf$/, "")]);
  if (pages.error) console.log("○ pdftoppm (Debian's poppler-utils) is not there: no pictures of the pages");
}
console.log(`${faults} faults; the files are in ${folder}`);
process.exitCode = faults > 0 ? 1 : 0;
