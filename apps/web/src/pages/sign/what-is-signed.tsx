import { STAGE_NAMES } from "@alcedo-dosimetry/campaign";
import type { Outcome } from "../../engine/orders.ts";
import { FindingNote } from "../../look/finding-note.tsx";
import { StandingMark } from "../../look/standing-mark.tsx";

/** What the summary above a signature is made of. */
export interface WhatIsSignedProps {
  readonly revision: number;
  readonly outcome: Outcome;
  /** Digest of the evaluation that the server keeps. */
  readonly digest: string | undefined;
  /** Head of the archive's seal as it is now. */
  readonly head: string | undefined;
}

/** What a signature will stand under: the evaluation by its digest, the seal, what each stage is worth, what is still open. */
export function WhatIsSigned({ revision, outcome, digest, head }: WhatIsSignedProps) {
  const open = outcome.findings.filter(({ level }) => level !== "notice");
  const notices = outcome.findings.length - open.length;
  return (
    <section className="sheet sign-what" aria-labelledby="sign-what">
      <h2 id="sign-what">What is signed</h2>
      <dl className="sign-facts">
        <Fact name="revision">{revision}</Fact>
        <Fact name="digest of the readings">{outcome.input}</Fact>
        <Fact name="digest of the evaluation">{digest ?? "not kept yet"}</Fact>
        <Fact name="head of the archive's seal">{head ?? "…"}</Fact>
      </dl>
      <p className="muted small">
        Note them where the archive is not: with them anybody can ask it later whether anything was altered.
      </p>
      <ul className="sign-stages">
        {outcome.stages.map(({ id, standing, reason }) => (
          <li key={id}>
            <strong>{STAGE_NAMES[id]}</strong> <StandingMark standing={standing} />
            <span className="muted"> {reason}</span>
          </li>
        ))}
      </ul>
      <h3>Still open</h3>
      {open.length === 0 ? (
        <p className="muted">
          No error and no warning{notices > 0 ? `, ${notices} ${notices === 1 ? "notice" : "notices"}` : ""}.
        </p>
      ) : (
        open.map((finding) => <FindingNote key={finding.message} finding={finding} />)
      )}
    </section>
  );
}

function Fact({ name, children }: { readonly name: string; readonly children: string | number }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd className="number">{children}</dd>
    </div>
  );
}
