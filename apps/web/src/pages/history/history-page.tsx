import type { HistoryEntry } from "@alcedo-dosimetry/protocol";
import { useEffect, useState } from "react";
import { Footer } from "../../app/footer.tsx";
import { campaignLeaves, Masthead } from "../../app/masthead.tsx";
import type { OpenBook } from "../../book/open-book.ts";
import { useBook, useBookState, useKept } from "../../book/use-book.ts";
import { Button } from "../../look/button.tsx";
import { say } from "../../look/saying.ts";
import { Table } from "../../look/table.tsx";
import { ask, errorWords } from "../../talk/ask.ts";
import { SavedMark } from "../campaign/saved-mark.tsx";
import "./history-page.css";

/** Every change of a campaign: who, when and why; the last can be taken back. */
export function HistoryPage({ id }: { readonly id: string }) {
  const opening = useBook(id);
  if (opening.state === "open") return <History open={opening.open} />;
  return (
    <>
      <Masthead title="History" leaves={campaignLeaves(id, "history")} />
      <main className="history">
        {opening.state === "failed" ? <p role="alert">{opening.words}</p> : <p role="status">Opening …</p>}
      </main>
    </>
  );
}

function History({ open }: { readonly open: OpenBook }) {
  const { id, book } = open;
  const state = useBookState(open);
  const evaluation = useKept(open);
  const { entries, trouble } = useHistory(id, state.revision);
  const [busy, setBusy] = useState(false);
  const last = entries?.at(-1);
  const takeBack = async () => {
    if (!last) return;
    setBusy(true);
    try {
      const kept = await ask("undo", { id, body: { after: last.revision, why: `undo: ${last.why}`.slice(0, 480) } });
      book.heard(kept.revision);
      say(`Taken back: ${last.why}`);
    } catch (error) {
      say(errorWords(error));
    } finally {
      setBusy(false);
    }
  };
  const { descriptor } = state.campaign;
  return (
    <>
      <Masthead
        title={descriptor.title ?? descriptor.name}
        beside="every change, the last first"
        leaves={campaignLeaves(id, "history")}
        status={<SavedMark state={state} kept={evaluation} />}
      >
        <Button isDisabled={busy || state.waiting > 0 || (entries?.length ?? 0) < 2} onPress={() => void takeBack()}>
          Take the last change back
        </Button>
      </Masthead>
      <main className="history">
        <p className="muted">
          Nothing is ever overwritten: taking a change back is a change as well, and stands here. Each line is a
          revision under the archive's seal.
        </p>
        {trouble !== undefined && <p role="alert">{trouble}</p>}
        {entries && (
          <div className="sheet">
            <Table<HistoryEntry>
              label="Changes"
              rows={entries.toReversed()}
              keyOf={({ revision }) => `${revision}`}
              columns={[
                { id: "revision", title: "revision", number: true, names: true, cell: ({ revision }) => revision },
                {
                  id: "when",
                  title: "when",
                  cell: ({ when }) => <span className="number">{when.slice(0, 19).replace("T", " ")}</span>,
                },
                { id: "who", title: "who", cell: ({ who }) => who },
                { id: "why", title: "what and why", cell: ({ why }) => why },
              ]}
            />
          </div>
        )}
      </main>
      <Footer />
    </>
  );
}

function useHistory(id: string, revision: number) {
  const [entries, setEntries] = useState<readonly HistoryEntry[]>();
  const [trouble, setTrouble] = useState<string>();
  // biome-ignore lint/correctness/useExhaustiveDependencies: each new revision is one more line
  useEffect(() => {
    let wanted = true;
    ask("history", { id }).then(
      (answer) => wanted && setEntries(answer),
      (error: unknown) => wanted && setTrouble(errorWords(error)),
    );
    return () => {
      wanted = false;
    };
  }, [id, revision]);
  return { entries, trouble };
}
