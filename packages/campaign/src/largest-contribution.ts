import { share } from "./concise.ts";
import type { Quantity } from "./result.ts";

/** An input of a budget in two or three words. Keys are stable and say what the input is: the first pattern that fits names it. */
const NAMES: readonly (readonly [pattern: RegExp, name: (parts: readonly string[]) => string])[] = [
  [/^output-corrections?(?:$|\/)/, () => "output correction"],
  [/^output-factors\/.+\/beyond-table$/, () => "end of the correction table"],
  [/^intermediate-link$/, () => "intermediate link"],
  [/^temperature-coefficient$/, () => "temperature coefficient"],
  [/^calibration\/dose$/, () => "reference dose"],
  [/^calibration\/.*\/repeats\b/, () => "calibration repeats"],
  [/^background\//, () => "background"],
  [/^separation\//, () => "separation"],
  [/^output-factors\/reference-/, () => "drift of the reference"],
  [/\/temperature$/, () => "temperature"],
  [/^(?:volume-averaging|positioning)\b/, ([first]) => first!.split(".")[0]!.replace("-", " ")],
  [/^output-factors\/([^/]+)(?:\/\d+)?\/repeats\b/, ([, condition]) => `repeats of ${condition}`],
  [/^output-factors\/([^/]+)(?:\/\d+)?\/resolution\b/, ([, condition]) => `last digit, ${condition}`],
  [/^output-factors\/(.+)\/width-[xy]$/, () => "field width"],
];

/** What contributes most to a quantity's variance, and its part of it in words; undefined where nothing does. */
export function largestContribution(quantity: Quantity): { readonly name: string; readonly share: string } | undefined {
  const source = largestSource(quantity);
  return source && { name: source.name, share: share(source.share) };
}

/** What contributes most to a quantity's variance, and its part of it; undefined where nothing does. */
export function largestSource({ budget }: Quantity): { readonly name: string; readonly share: number } | undefined {
  const sources = new Map<string, number>();
  for (const { input, label, share: part } of budget) {
    const name = nameOf(input) ?? label;
    sources.set(name, (sources.get(name) ?? 0) + part);
  }
  const [name, part] = [...sources].reduce<readonly [string, number]>((a, b) => (b[1] > a[1] ? b : a), ["", 0]);
  return part > 0 ? { name, share: part } : undefined;
}

function nameOf(key: string): string | undefined {
  for (const [pattern, name] of NAMES) {
    const match = pattern.exec(key);
    if (match) return name(match);
  }
  return undefined;
}
