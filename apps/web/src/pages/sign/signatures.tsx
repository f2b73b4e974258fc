import type { Signature } from "@alcedo-dosimetry/protocol";
import { useEffect, useState } from "react";
import type { OpenBook } from "../../book/open-book.ts";
import { useBookState } from "../../book/use-book.ts";
import { useDecimal } from "../../look/decimal.tsx";
import { Table } from "../../look/table.tsx";
import { ask, errorWords } from "../../talk/ask.ts";
import { type ChangesSince, changesSince } from "./changes-since.ts";

const MEANINGS: Readonly<Record<Signature["meaning"], string>> = {
  measured: "measured so",
  agrees: "reviewed, agrees",
  returned: "returned",
};

/** Every signature that a campaign has borne, first to last. */
export function Signatures({ signatures }: { readonly signatures: readonly Signature[] }) {
  if (signatures.length === 0)
    return (
      <p className="muted">Nobody has signed yet. The one who measured signs first; then another person reviews.</p>
    );
  return (
    <Table
      label="Signatures"
      rows={signatures}
      keyOf={({ signature }) => signature}
      flagged={({ meaning }) => meaning === "returned"}
      columns={[
        { id: "who", title: "who", cell: ({ who }) => who },
        {
          id: "meaning",
          title: "meaning",
          cell: ({ meaning, reason }) => (
            <>
              {meaning === "returned" && "△ "}
              {MEANINGS[meaning]}
              {reason !== undefined && <span className="muted">: {reason}</span>}
            </>
          ),
        },
        { id: "when", title: "when (UTC)", number: true, cell: ({ when }) => when.replace("T", " ").slice(0, 19) },
        { id: "revision", title: "revision", number: true, cell: ({ revision }) => revision },
        { id: "evaluation", title: "evaluation", number: true, cell: ({ evaluation }) => short(evaluation) },
        { id: "head", title: "seal", number: true, cell: ({ head }) => short(head) },
      ]}
    />
  );
}

/** The first digits of a digest: enough to see whether two are the same. */
const short = (digest: string) => digest.replace(/^sha256:/, "").slice(0, 12);

/** What became of what was signed: the figures that are others now, and through which input. */
export function SinceSigned({ open, over }: { readonly open: OpenBook; readonly over: number }) {
  const { campaign, revision } = useBookState(open);
  const decimal = useDecimal();
  const [found, setFound] = useState<{ readonly changes: ChangesSince } | { readonly trouble: string }>();
  useEffect(() => {
    let wanted = true;
    ask("campaign", { id: open.id, query: { revision: over } }).then(
      (signed) => wanted && setFound({ changes: changesSince(signed.campaign, campaign) }),
      (error: unknown) => wanted && setFound({ trouble: errorWords(error) }),
    );
    return () => {
      wanted = false;
    };
  }, [open.id, over, campaign]);
  return (
    <section className="sheet sign-since" aria-labelledby="sign-since">
      <h2 id="sign-since">Changed since revision {over} was signed</h2>
      <p>
        What was signed stays as it is, frozen with its evaluation. This is revision {revision}, a new version: it is to
        be signed anew.
      </p>
      {found === undefined && <p role="status">Comparing …</p>}
      {found !== undefined && "trouble" in found && <p role="alert">△ {found.trouble}</p>}
      {found !== undefined && "changes" in found && (
        <>
          {found.changes.figures.length > 0 && (
            <Table
              label="Figures that changed"
              rows={found.changes.figures}
              keyOf={({ id }) => id}
              columns={[
                { id: "figure", title: "figure", cell: ({ label }) => label },
                { id: "before", title: "signed", number: true, cell: ({ before }) => decimal(before) },
                { id: "after", title: "now", number: true, cell: ({ after }) => decimal(after) },
                { id: "change", title: "change", number: true, cell: ({ change }) => decimal(change) },
                {
                  id: "through",
                  title: "through",
                  cell: ({ through }) => decimal(through.map(({ input, part }) => `${input} (${part})`).join(", ")),
                },
              ]}
            />
          )}
          <p className="muted">
            {found.changes.unchanged} figures are what they were
            {found.changes.gone.length > 0 && `; gone: ${found.changes.gone.join(", ")}`}
            {found.changes.come.length > 0 && `; new: ${found.changes.come.join(", ")}`}.
          </p>
        </>
      )}
    </section>
  );
}
