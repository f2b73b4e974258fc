/**
 * The coverage of 95 % intervals and the rate of false alarms over simulated campaigns whose truth is known, with every
 * type-B error drawn from its stated distribution, volume averaging and misplacement included: a table in Markdown.
 * `npm run coverage -- 2000` runs it for so many campaigns of every regime; see docs/validation.md.
 */
import { REGIMES } from "@alcedo-dosimetry/simulator";
import { type CoverageRun, coverageRun } from "../../packages/simulator/src/testing/coverage.ts";

const FIRST_SEED = 123_456;
const campaigns = Number(process.argv[2] ?? "200");
const wanted = process.argv[3] ?? "";

const percent = (part: number, whole: number) => ((100 * part) / whole).toFixed(1);

/** Least and largest coverage in percent, and the largest bias over U, of the quantities whose ids match. */
function range({ quantities }: CoverageRun, ids: RegExp): string {
  const own = [...quantities].filter(([id]) => ids.test(id)).map(([, one]) => one);
  if (own.length === 0) return "–";
  const shares = own.map(({ covered, campaigns: n }) => (100 * covered) / n);
  const bias = Math.max(...own.map((one) => Math.abs(one.bias)));
  const ends = [Math.min(...shares), Math.max(...shares)].map((share) => share.toFixed(1));
  return `${ends[0] === ends[1] ? ends[0]! : ends.join("–")} (${bias.toFixed(2)})`;
}

console.log(`${campaigns} campaigns of each regime, seeds from ${FIRST_SEED}. In brackets the largest bias over U.`);
console.log("");
console.log("| regime | stem ratio | coefficient | output factors | any warning | of these |");
console.log("|---|---|---|---|---|---|");
for (const [name, laboratory] of Object.entries(REGIMES).filter(([regime]) => regime.includes(wanted))) {
  const run = coverageRun(laboratory(), campaigns, FIRST_SEED);
  const alarms = [...run.alarms].map(([code, count]) => `${code} ${percent(count, campaigns)}`).join(", ");
  const cells = [
    name,
    range(run, /^separation\.stem-ratio$/),
    range(run, /^calibration\.coefficient$/),
    range(run, /^output-factor\./),
    `${percent(run.alarmed, campaigns)} %`,
    alarms || "–",
  ];
  console.log(`| ${cells.join(" | ")} |`);
}
