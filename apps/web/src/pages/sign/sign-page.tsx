import type { Signature } from "@alcedo-dosimetry/protocol";
import { useCallback, useEffect, useState, useSyncExternalStore } from "react";
import { Footer } from "../../app/footer.tsx";
import { campaignLeaves, Masthead } from "../../app/masthead.tsx";
import { live, useSession } from "../../app/session.ts";
import type { KeptEvaluation } from "../../book/kept-evaluations.ts";
import type { OpenBook } from "../../book/open-book.ts";
import { useBook, useBookState, useOutcome } from "../../book/use-book.ts";
import { Button } from "../../look/button.tsx";
import { ask, errorWords } from "../../talk/ask.ts";
import { PassphraseForm } from "./passphrase-form.tsx";
import { Review } from "./review.tsx";
import { Signatures, SinceSigned } from "./signatures.tsx";
import { signedState, turnOf } from "./standing-of-signatures.ts";
import { WhatIsSigned } from "./what-is-signed.tsx";
import "./sign-page.css";

/** Where a campaign is signed by the one who measured, reviewed by another, and where one sees who signed what. */
export function SignPage({ id }: { readonly id: string }) {
  const opening = useBook(id);
  const session = useSession();
  const me = session.state === "in" ? session.me : undefined;
  const descriptor = opening.state === "open" ? opening.open.book.state().campaign.descriptor : undefined;
  return (
    <div className="sign-page">
      <Masthead title={descriptor?.title ?? descriptor?.name ?? id} leaves={campaignLeaves(id, "sign")} />
      <main className="sign">
        {opening.state === "loading" && <p role="status">Opening the campaign …</p>}
        {opening.state === "failed" && (
          <>
            <p role="alert">{opening.words}</p>
            <Button onPress={opening.again}>Try again</Button>
          </>
        )}
        {opening.state === "open" && me && <Signing open={opening.open} person={me.person.id} />}
      </main>
      <Footer simulated={me?.simulated === true} />
    </div>
  );
}

/** Why nothing can be signed now; undefined where it can. */
function hindranceOf(
  kept: KeptEvaluation | undefined,
  waiting: number,
  revision: number,
  evaluated: boolean,
): string | undefined {
  if (!evaluated) return "Something stands in the way of any result: there is nothing to sign yet.";
  if (waiting > 0) return `${waiting} changes are not yet on disk: sign when they are.`;
  if (!kept || kept.revision !== revision) return "The server is keeping the evaluation of this revision: one moment.";
  if (kept.trouble !== undefined) return kept.trouble;
  if (kept.differs !== undefined)
    return `The server's evaluation is not this page's (they differ at ${kept.differs}). Load the page again; if it stays so, this is a fault of the program: do not sign.`;
  return kept.digest === undefined ? "The server keeps no evaluation of this revision." : undefined;
}

function Signing({ open, person }: { readonly open: OpenBook; readonly person: string }) {
  const { id } = open;
  const { revision, waiting } = useBookState(open);
  const outcome = useOutcome(open);
  const kept = useSyncExternalStore(open.watch, open.kept.latest);
  const [signatures, setSignatures] = useState<readonly Signature[]>(open.signed());
  const [head, setHead] = useState<string>();
  const [trouble, setTrouble] = useState<string>();
  const refresh = useCallback(async () => {
    try {
      const [{ signed }, { seal }] = await Promise.all([ask("campaign", { id }), ask("audit")]);
      setSignatures(signed);
      setHead(seal);
      setTrouble(undefined);
    } catch (error) {
      setTrouble(errorWords(error));
    }
  }, [id]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new revision has another seal
  useEffect(() => void refresh(), [refresh, revision]);
  // somebody else may sign meanwhile
  useEffect(
    () =>
      live().onEvent((event) => {
        if ("campaign" in event && event.campaign.id === id) void refresh();
      }),
    [id, refresh],
  );
  if (!outcome) return <p role="status">Evaluating …</p>;
  const digest = kept?.revision === revision ? kept.digest : undefined;
  const hindrance = hindranceOf(kept, waiting, revision, outcome.evaluated);
  const state = signedState(signatures);
  const turn = turnOf(state, person);
  const isChanged = state.measured?.isCurrent === false;
  return (
    <>
      <div className="sign-left">
        <WhatIsSigned revision={revision} outcome={outcome} digest={digest} head={head} />
      </div>
      <div className="sign-right">
        {trouble !== undefined && <p role="alert">△ {trouble}</p>}
        {state.returned && (
          <section className="sheet sign-returned" aria-labelledby="sign-returned">
            <h2 id="sign-returned">△ Returned by {state.returned.who}</h2>
            <p>{state.returned.reason}</p>
          </section>
        )}
        <section className="sheet" aria-labelledby="sign-who">
          <h2 id="sign-who">Who has signed</h2>
          <Signatures signatures={signatures} />
        </section>
        {isChanged && <SinceSigned open={open} over={state.measured.revision} />}
        {turn.may === "nothing" && <p className="sign-turn">{turn.why}</p>}
        {turn.may === "sign" && (
          <section className="sheet" aria-labelledby="sign-now">
            <h2 id="sign-now">Sign as the one who measured</h2>
            <p>
              You say: these readings were taken so, what is left out is left out for the reasons given, and the
              evaluation is the one on the left. What you sign is frozen; a later change makes a new version.
            </p>
            <PassphraseForm
              words="Sign: I measured this"
              isMain
              hindrance={hindrance}
              onSign={async (passphrase) => {
                const body = { after: revision, digest: digest!, passphrase, meaning: "measured" } as const;
                await ask("sign", { id, body });
                await refresh();
              }}
            />
          </section>
        )}
        {turn.may === "review" && <Review open={open} digest={digest} hindrance={hindrance} onSigned={refresh} />}
      </div>
    </>
  );
}
