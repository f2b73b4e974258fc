import { useEffect, useState } from "react";
import { hashOf } from "../../app/route.ts";
import { useSession } from "../../app/session.ts";
import { show } from "../../app/settings.ts";
import type { OpenBook } from "../../book/open-book.ts";
import { useBook, useBookState } from "../../book/use-book.ts";
import { Button } from "../../look/button.tsx";
import { Console } from "./console.tsx";
import type { At } from "./next-reading.ts";
import { openingLine, runSheet } from "./run-sheet.ts";
import { SetUpDialog } from "./set-up-dialog.tsx";
import { measurableSeries } from "./set-up-fields.ts";
import { useVisits } from "./use-visits.ts";

/** The console of a campaign, for the night at the machine. */
export function ConsolePage({ id }: { readonly id: string }) {
  const opening = useBook(id);
  useEffect(() => {
    // dark whatever the rest is, sheets that lie over it included
    document.documentElement.dataset["theme"] = "dark";
    return show;
  }, []);
  if (opening.state === "open") return <OpenConsole open={opening.open} />;
  return (
    <main className="console-wait">
      <h1>Console</h1>
      {opening.state === "loading" ? (
        <p role="status">Opening the campaign …</p>
      ) : (
        <>
          <p role="alert">{opening.words}</p>
          <Button kind="main" onPress={opening.again}>
            Try again
          </Button>
        </>
      )}
    </main>
  );
}

function OpenConsole({ open }: { readonly open: OpenBook }) {
  const state = useBookState(open);
  const session = useSession();
  const { visits, trouble } = useVisits(open.engine, state.campaign);
  const [chosen, setChosen] = useState<At>();
  const leave = () => {
    location.hash = hashOf({ page: "campaign", id: open.id });
  };
  if (!visits)
    return (
      <main className="console-wait">
        <h1>Console</h1>
        {trouble === undefined ? <p role="status">Working out the readings …</p> : <p role="alert">{trouble}</p>}
      </main>
    );
  const at = chosen ?? openingLine(runSheet(visits));
  if (!at) return <FirstCondition open={open} onGo={setChosen} onLeave={leave} />;
  return (
    <Console
      state={state}
      visits={visits}
      at={at}
      onGo={setChosen}
      person={session.state === "in" ? session.me.person.id : ""}
      onEdit={open.book.edit}
      onLeave={leave}
      {...(trouble !== undefined && { trouble })}
    />
  );
}

interface FirstConditionProps {
  readonly open: OpenBook;
  readonly onGo: (at: At) => void;
  readonly onLeave: () => void;
}

/** A campaign without a reading: what to do first. */
function FirstCondition({ open, onGo, onLeave }: FirstConditionProps) {
  const { campaign } = useBookState(open);
  const [asking, setAsking] = useState(false);
  const [series] = measurableSeries(campaign);
  return (
    <main className="console-wait">
      <h1>No reading yet</h1>
      <p>
        A run has conditions (one arrangement of beam, field and fibre each) and readings of them. Most begin with the
        background, the beam off: it is in every reading that follows.
      </p>
      {series === undefined ? (
        <p role="alert">The campaign has no table to measure into: make one on its page first.</p>
      ) : (
        <Button kind="main" onPress={() => setAsking(true)} autoFocus>
          Name the first condition
        </Button>
      )}
      <Button onPress={onLeave}>Back to the campaign</Button>
      {asking && series !== undefined && (
        <SetUpDialog
          campaign={campaign}
          at={{ series, condition: "" }}
          isNew
          begin={new Map()}
          onDone={onGo}
          onClose={() => setAsking(false)}
        />
      )}
    </main>
  );
}
