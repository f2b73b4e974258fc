import { countInWords, type Finding, type FindingLevel, placeBehind, sourceInWords } from "@alcedo-dosimetry/campaign";
import type { Ink } from "./page.ts";
import { printable } from "./printable.ts";
import { padded, textWidth } from "./text-width.ts";
import { wrapBehind } from "./wrap.ts";

const LEVELS: Readonly<
  Record<FindingLevel, { readonly mark: string; readonly ink: (ink: Ink) => (text: string) => string }>
> = {
  error: { mark: "✕ error", ink: (ink) => ink.red },
  warning: { mark: "▲ warning", ink: (ink) => ink.yellow },
  notice: { mark: "· notice", ink: (ink) => ink.dim },
};

const MARGIN = Math.max(...Object.values(LEVELS).map(({ mark }) => textWidth(mark))) + 2;

/** One finding as lines of text: level, message, effect, remedy, and the code that stays when the words change. */
export function findingLines(finding: Finding, width: number, ink: Ink): string[] {
  const { level, code, message, effect, remedy } = finding;
  const blanks = " ".repeat(MARGIN);
  const part = (text: string) => wrapBehind(blanks, printable(text), width);
  const [first, ...others] = part(`${message}${placeBehind(finding)} [${code}]`);
  const mark = LEVELS[level].ink(ink)(padded(LEVELS[level].mark, MARGIN));
  return [
    mark + first!.slice(MARGIN),
    ...others,
    ...(effect ? part(`Effect: ${effect}`) : []),
    ...(remedy ? part(`Remedy: ${remedy}`) : []),
  ];
}

/** Findings file by file, in the order in which the files first appear; those of no file come first, without a heading. */
export function findingsByFile(findings: readonly Finding[], width: number, ink: Ink): string[] {
  const files = new Map<string, Finding[]>([["", []]]);
  for (const finding of findings) {
    const { where } = finding;
    const file = where?.sheet === undefined ? (where?.file ?? "") : sourceInWords(where);
    files.set(file, [...(files.get(file) ?? []), finding]);
  }
  return [...files]
    .filter(([, own]) => own.length > 0)
    .flatMap(([file, own], i) => [
      ...(i > 0 ? [""] : []),
      ...(file === "" ? [] : [`${ink.bold(printable(file))}: ${countInWords(own)}`]),
      ...own.flatMap((finding) => findingLines(finding, width, ink)),
    ]);
}
