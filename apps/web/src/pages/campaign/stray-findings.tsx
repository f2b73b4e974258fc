import { type Finding, type Resource, STAGES } from "@alcedo-dosimetry/campaign";
import { Button } from "../../look/button.tsx";
import { FindingNote } from "../../look/finding-note.tsx";
import { OTHER_SERIES } from "./stage-teaching.ts";

/** The stage that a finding belongs to; "" for one of the campaign as a whole. */
export function stageOfFinding({ where, code }: Finding, resources: readonly Resource[]): string {
  const series = where?.series ?? resources.find(({ path }) => path === where?.file)?.alcedo.series;
  if (series !== undefined && ((STAGES as readonly string[]).includes(series) || series in OTHER_SERIES)) return series;
  // a rule about a stage is named after it
  return STAGES.find((stage) => code.startsWith(stage)) ?? "";
}

/** What stands between the head and the chain. */
export interface StrayFindingsProps {
  readonly findings: readonly Finding[];
  readonly onGo: (finding: Finding) => void;
  readonly onSetUp: () => void;
}

/** Findings about the campaign as a whole: its descriptor, say. */
export function StrayFindings({ findings, onGo, onSetUp }: StrayFindingsProps) {
  if (findings.length === 0) return null;
  return (
    <section className="stage-findings chain-stray" aria-label="About the campaign as a whole">
      {findings.map((finding) => (
        <FindingNote
          key={`${finding.code} ${finding.message}`}
          finding={finding}
          {...(finding.where?.series !== undefined && { onGo: () => onGo(finding) })}
        >
          {finding.where?.key !== undefined && (
            <Button kind="quiet" onPress={onSetUp}>
              open the set-up
            </Button>
          )}
        </FindingNote>
      ))}
    </section>
  );
}
