/**
 * How often each mistake of the virtual laboratory is noticed at its usual size: campaigns with a warning or an error that
 * the same campaign without the mistake does not have. `npm run mistakes -- 100` runs it; see docs/validation.md.
 */
import { type Campaign, evaluate } from "@alcedo-dosimetry/campaign";
import { MISTAKES, type MistakeKind, simulate, standardLaboratory, withMistake } from "@alcedo-dosimetry/simulator";

const FIRST_SEED = 987_000;
const campaigns = Number(process.argv[2] ?? "40");
const wanted = process.argv[3] ?? "";

const speaks = (campaign: Campaign) =>
  new Set(
    evaluate(campaign)
      .result.findings.filter(({ level }) => level !== "notice")
      .map(({ code }) => code),
  );

console.log(`${campaigns} campaigns of each kind, seeds from ${FIRST_SEED}.`);
console.log("");
console.log("| mistake | size | noticed | by |");
console.log("|---|---|---|---|");
const laboratory = standardLaboratory();
const clean = Array.from({ length: campaigns }, (_, i) => speaks(simulate(laboratory, FIRST_SEED + i).campaign));
for (const kind of (Object.keys(MISTAKES) as MistakeKind[]).filter((one) => one.includes(wanted))) {
  const spoilt = withMistake(laboratory, kind);
  const by = new Map<string, number>();
  let noticed = 0;
  for (let i = 0; i < campaigns; i++) {
    const fresh = [...speaks(simulate(spoilt, FIRST_SEED + i).campaign)].filter((code) => !clean[i]!.has(code));
    if (fresh.length > 0) noticed++;
    for (const code of fresh) by.set(code, (by.get(code) ?? 0) + 1);
  }
  const codes = [...by].sort((a, b) => b[1] - a[1]).slice(0, 3);
  const { size } = MISTAKES[kind];
  const share = `${((100 * noticed) / campaigns).toFixed(0)} %`;
  console.log(
    `| ${kind} | ${size ? `${size.usual}` : "–"} | ${share} | ${codes.map(([code]) => code).join(", ") || "–"} |`,
  );
}
