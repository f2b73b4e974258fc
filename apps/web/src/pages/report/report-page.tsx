import { type ReactNode, useState } from "react";
import { Footer } from "../../app/footer.tsx";
import { campaignLeaves, Masthead } from "../../app/masthead.tsx";
import { useSession } from "../../app/session.ts";
import type { OpenBook } from "../../book/open-book.ts";
import { useBook, useBookState, useOutcome } from "../../book/use-book.ts";
import { Button } from "../../look/button.tsx";
import { Empty } from "../../look/empty.tsx";
import { FindingNote } from "../../look/finding-note.tsx";
import { addressOf } from "../../talk/ask.ts";
import { useKeys } from "../keys/use-keys.ts";
import "../../look/button.css";
import "./report-page.css";

/** The documents, and what each is for. */
const KINDS = [
  { id: "record", name: "Full record", words: "everything: results, readings as typed, derivations, budgets, figures" },
  { id: "output-factors", name: "Output factors", words: "two pages: the table to be used, and what stands behind it" },
  { id: "certificate", name: "Certificate", words: "the characterisation of the fibre, for other days" },
] as const;

type Kind = (typeof KINDS)[number]["id"];

/** The documents of a campaign: looked at, and taken along. */
export function ReportPage({ id }: { readonly id: string }) {
  const opening = useBook(id);
  const session = useSession();
  const simulated = session.state === "in" && session.me.simulated === true;
  const title = opening.state === "open" ? titleOf(opening.open) : id;
  return (
    <div className="report-page">
      <Masthead title={title} leaves={campaignLeaves(id, "report")} />
      <main className="report">
        {opening.state === "loading" && <p role="status">Opening the campaign …</p>}
        {opening.state === "failed" && (
          <>
            <p role="alert">{opening.words}</p>
            <Button onPress={opening.again}>Try again</Button>
          </>
        )}
        {opening.state === "open" && <Documents open={opening.open} />}
      </main>
      <Footer simulated={simulated} />
    </div>
  );
}

function titleOf({ book }: OpenBook): string {
  const { descriptor } = book.state().campaign;
  return descriptor.title ?? descriptor.name;
}

function Documents({ open }: { readonly open: OpenBook }) {
  const { id } = open;
  const { revision, waiting } = useBookState(open);
  const outcome = useOutcome(open);
  const [kind, setKind] = useState<Kind>("record");
  useKeys(
    "Report",
    KINDS.map(({ id: own, name }, k) => ({
      press: `${k + 1}`,
      does: `show: ${name.toLowerCase()}`,
      run: () => setKind(own),
    })),
  );
  if (outcome && !outcome.evaluated)
    return (
      <Empty title="There is nothing to report yet">
        <p>A document holds results, and something stands in the way of any:</p>
        {outcome.findings
          .filter(({ level }) => level === "error")
          .slice(0, 5)
          .map((finding) => (
            <FindingNote key={finding.message} finding={finding} />
          ))}
        <p>The readings can be taken along all the same:</p>
        <Exports id={id} />
      </Empty>
    );
  const shown = KINDS.find((own) => own.id === kind)!;
  // the revision is in the address so that a change is seen: the frame loads again
  const preview = `${addressOf("document", { id, query: { kind, format: "html" } })}#${revision}`;
  return (
    <>
      <div className="report-head">
        <fieldset className="report-kinds">
          <legend className="unseen">Document</legend>
          {KINDS.map(({ id: own, name, words }) => (
            <label key={own} className="report-kind">
              <input type="radio" name="kind" checked={own === kind} onChange={() => setKind(own)} />
              <span>
                <strong>{name}</strong>
                <span className="muted small">{words}</span>
              </span>
            </label>
          ))}
        </fieldset>
        <section className="report-take" aria-label="Take along">
          <h2>Take along</h2>
          <p className="report-links">
            <Download name="document" id={id} query={{ kind, format: "pdf" }} main>
              {shown.name}, PDF
            </Download>
            <Download name="document" id={id} query={{ kind, format: "html" }}>
              HTML
            </Download>
          </p>
          <Exports id={id} />
          {waiting > 0 && (
            <p role="status">□ {waiting} changes are not yet on disk: a document holds what is, as soon as they are.</p>
          )}
        </section>
      </div>
      <iframe key={preview} className="report-preview" title={`Preview: ${shown.name}`} src={preview} sandbox="" />
    </>
  );
}

/** The campaign itself, to be taken in elsewhere: nothing of what was typed is lost in it. */
function Exports({ id }: { readonly id: string }) {
  return (
    <p className="report-links">
      <Download name="exportFile" id={id} query={{ as: "xlsx" }}>
        Readings as a workbook
      </Download>
      <Download name="exportFile" id={id} query={{ as: "zip" }}>
        Campaign folder, zipped
      </Download>
    </p>
  );
}

interface DownloadProps {
  readonly name: "document" | "exportFile";
  readonly id: string;
  readonly query: Readonly<Record<string, string>>;
  readonly main?: boolean;
  readonly children: ReactNode;
}

function Download({ name, id, query, main = false, children }: DownloadProps) {
  return (
    <a className={`button button-${main ? "main" : "plain"}`} href={addressOf(name, { id, query })} download>
      {children}
    </a>
  );
}
