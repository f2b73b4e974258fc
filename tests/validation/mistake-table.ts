/**
 * How often each mistake of the virtual laboratory is caught at its stated size, and what it does there: a campaign counts
 * where it has a warning or an error that the same campaign without the mistake does not have.
 *
 *     npm run mistakes -- 200 [KIND]            at the stated sizes
 *     npm run mistakes -- 100 --power [KIND]    the smallest sizes that are caught with 95 % power
 */
import { MISTAKES, type MistakeKind } from "@alcedo-dosimetry/simulator";
import { smallestCaught } from "./mistake-power.ts";
import { type MistakeRun, mistakeRun } from "./mistake-run.ts";
import { MISTAKE_SIZES } from "./mistake-sizes.ts";

const [given = "40", ...more] = process.argv.slice(2);
const campaigns = Number(given);
const power = more.includes("--power");
const wanted = more.find((word) => !word.startsWith("--")) ?? "";

const kinds = (Object.keys(MISTAKES) as MistakeKind[]).filter((kind) => kind.includes(wanted));

/** Share, effect and findings of a run, as cells. */
function cells({ campaigns: n, noticed, by, effectOverU, moved }: MistakeRun): string {
  const effect = Number.isFinite(effectOverU) ? `${effectOverU.toPrecision(2)} U of ${moved}` : "no result";
  const codes = by.slice(0, 3).map(([code]) => code);
  return `${((100 * noticed) / n).toFixed(1)} % | ${effectOverU === 0 ? "none" : effect} | ${codes.join(", ") || "–"}`;
}

console.log(`${campaigns} campaigns of each kind, of five readings a condition unless another regime is named.`);
console.log("");
console.log("| mistake | usual size | stated size | unit | caught | effect on the result that moves most | by |");
console.log("|---|---|---|---|---|---|---|");
const unseen: string[] = [];
for (const kind of kinds) {
  const stated = MISTAKE_SIZES[kind];
  const { size } = MISTAKES[kind];
  const regime = "regime" in stated ? stated.regime : "five-repeats";
  const found = power && size ? smallestCaught(kind, regime, campaigns) : undefined;
  const at = power ? found?.size : "size" in stated ? stated.size : size?.usual;
  const run = found?.run ?? mistakeRun(kind, size ? (at ?? size.usual) : undefined, regime, campaigns);
  const name = regime === "five-repeats" ? kind : `${kind} (${regime})`;
  const missing = power && size && !found ? "none of the ladder" : `${at ?? "–"}`;
  const line = `| ${name} | ${size?.usual ?? "–"} | ${missing} | ${size?.meaning ?? "–"} | ${cells(run)} |`;
  if ("unseen" in stated) unseen.push(`| ${kind} | ${cells(run)} | ${stated.unseen} | ${stated.guard} |`);
  else console.log(line);
}
if (unseen.length > 0) {
  console.log("\nCannot be seen from the data:\n");
  console.log("| mistake | caught | effect | by | why | guard against it by |");
  console.log("|---|---|---|---|---|---|");
  for (const line of unseen) console.log(line);
}
