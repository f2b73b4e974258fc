/** The figures of a campaign folder, drawn in whatever runs this: Node or a browser. */
import { evaluate } from "@alcedo-dosimetry/campaign";
import { memoryFolder, readFolder } from "@alcedo-dosimetry/exchange";
import { svgText, type Theme } from "@alcedo-dosimetry/figures";
import { figuresOf } from "../packages/report/src/figures/index.ts";

/** One figure as text, with what it says of itself. */
export interface DrawnFigure {
  readonly id: string;
  readonly title: string;
  readonly description: string;
  readonly svg: string;
}

/**
 * Every figure of a campaign in one theme.
 * @param files the folder's texts, by path.
 */
export function drawFolder(files: Readonly<Record<string, string>>, theme: Theme): DrawnFigure[] {
  const bytes = new Map(Object.entries(files).map(([path, text]) => [path, new TextEncoder().encode(text)]));
  const { campaign, findings } = readFolder(memoryFolder("folder", bytes));
  if (!campaign) throw new Error(JSON.stringify(findings));
  return figuresOf(campaign, evaluate(campaign, findings)).map((figure, k) => ({
    id: figure.id,
    title: figure.title,
    description: figure.description,
    svg: svgText(figure, theme, { idPrefix: `f${k}-` }),
  }));
}
