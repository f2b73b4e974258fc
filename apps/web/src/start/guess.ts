import { columnsOf, fittingName, type TableSeriesKind } from "@alcedo-dosimetry/campaign";
import { decimalOf, parseBlock } from "../block/parse-block.ts";
import { headerKey } from "../block/recognise.ts";
import { CHAIN_SERIES } from "./new-campaign.ts";

/** What a header tells: which series it is most like, the channels that it names, the decimal sign of its numbers. */
export function guessed(text: string): {
  readonly series: TableSeriesKind;
  readonly channels: readonly string[];
  readonly decimal: "." | ",";
} {
  const block = parseBlock(text);
  const header = "fault" in block ? [] : (block.cells[0] ?? []);
  const decimal = "fault" in block ? "." : (decimalOf(block) ?? ".");
  const signals = header.flatMap((cell) => /^signal[_ ](.+)$/i.exec(cell)?.[1] ?? []).map(fittingName);
  const colours = header
    .filter((cell) => /^(?:blue|green|red|yellow|uv)$/.test(headerKey(cell)))
    .map((cell) => headerKey(cell));
  const keys = new Set(header.map(headerKey));
  const own = (series: TableSeriesKind) =>
    columnsOf(series, [])
      .filter(({ name }) => !columnsOf("background", []).some((common) => common.name === name))
      .filter(({ name }) => keys.has(headerKey(name))).length;
  const counts = CHAIN_SERIES.slice(1).map((series) => [series, own(series)] as const);
  const best = counts.reduce((a, b) => (b[1] > a[1] ? b : a));
  const channels = signals.length >= 2 ? signals : colours.length >= 2 ? colours : ["blue", "green"];
  return { series: best[1] > 0 ? best[0] : "background", channels, decimal };
}
