import type { RecheckRow, ReviewSample } from "@alcedo-dosimetry/protocol";
import { useEffect, useState } from "react";
import type { OpenBook } from "../../book/open-book.ts";
import { useBookState } from "../../book/use-book.ts";
import { Button } from "../../look/button.tsx";
import { asTable } from "../../look/decimal-sign.ts";
import { TextField } from "../../look/text-field.tsx";
import { ask, errorWords } from "../../talk/ask.ts";
import { entryKey, missingEntries } from "./entered-sample.ts";
import { PassphraseForm } from "./passphrase-form.tsx";
import { RecheckTable } from "./recheck-table.tsx";

/** What the second person's part is made of. */
export interface ReviewProps {
  readonly open: OpenBook;
  readonly digest: string | undefined;
  readonly hindrance: string | undefined;
  readonly onSigned: () => Promise<void>;
}

/** The second person's part: both routes side by side, a random tenth from paper, and the verdict. */
export function Review({ open, digest, hindrance, onSigned }: ReviewProps) {
  const { revision, campaign } = useBookState(open);
  const [rows, setRows] = useState<readonly RecheckRow[]>();
  const [sample, setSample] = useState<ReviewSample>();
  const [entered, setEntered] = useState<ReadonlyMap<string, string>>(new Map());
  const [trouble, setTrouble] = useState<string>();
  const [reason, setReason] = useState("");
  const [isReturning, setReturning] = useState(false);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the sample belongs to what was signed, and so to its revision
  useEffect(() => {
    let wanted = true;
    const failed = (error: unknown) => wanted && setTrouble(errorWords(error));
    // the second route takes its seconds; the readings from paper can be typed meanwhile
    ask("reviewSample", { id: open.id }).then((tenth) => wanted && setSample(tenth), failed);
    ask("recheck", { id: open.id }).then((both) => wanted && setRows(both), failed);
    return () => {
      wanted = false;
    };
  }, [open.id, revision]);
  const missing = sample ? missingEntries(sample, entered) : 0;
  const review = (verdict: "agrees" | "returned") => async (passphrase: string) => {
    const cells = (sample?.readings ?? []).flatMap(({ table, reading, columns }) =>
      columns.flatMap((column) => {
        const text = asTable(
          entered.get(entryKey(table, reading, column)) ?? "",
          campaign.tables[table]?.decimal ?? ".",
        );
        return text === "" ? [] : [{ table, reading, column, text }];
      }),
    );
    await ask("review", {
      id: open.id,
      body: {
        ...{ after: revision, digest: digest!, passphrase, verdict, entered: cells },
        ...(verdict === "returned" && { reason: reason.trim() }),
      },
    });
    await onSigned();
  };
  if (trouble !== undefined)
    return (
      <section className="sheet">
        <h2>Review</h2>
        <p role="alert">△ {trouble}</p>
      </section>
    );
  return (
    <>
      <section className="sheet sign-recheck" aria-labelledby="sign-recheck">
        <h2 id="sign-recheck">By a second, independent route</h2>
        <p>
          Every figure once more, by plain arithmetic and another method of fitting, without a line of the first route's
          code. Two routes that agree may still be fed with the same wrong reading: that is what the next part is for.
        </p>
        {rows ? <RecheckTable rows={rows} /> : <p role="status">It is under way, and takes some seconds.</p>}
      </section>
      <section className="sheet sign-sample" aria-labelledby="sign-sample">
        <h2 id="sign-sample">From paper</h2>
        <p>
          Take the measurer's own notes, and type what stands there for these readings, drawn at random: a tenth of all.
          What the campaign holds is not shown before you have signed.
        </p>
        <div className="sign-entries">
          {sample?.readings.map(({ table, reading, columns }) => (
            <fieldset key={`${table}/${reading}`} className="sign-reading">
              <legend>
                <span className="number">{reading}</span> <span className="muted">{table}</span>
              </legend>
              {columns.map((column) => (
                <TextField
                  key={column}
                  label={column}
                  mono
                  inputMode="decimal"
                  autoComplete="off"
                  value={entered.get(entryKey(table, reading, column)) ?? ""}
                  onChange={(text) => setEntered((now) => new Map(now).set(entryKey(table, reading, column), text))}
                />
              ))}
            </fieldset>
          ))}
        </div>
      </section>
      <section className="sheet sign-verdict" aria-labelledby="sign-verdict">
        <h2 id="sign-verdict">Your verdict</h2>
        {isReturning ? (
          <PassphraseForm
            words="Return it"
            hindrance={hindrance ?? (reason.trim() === "" ? "Say why: the measurer will read it." : undefined)}
            onSign={review("returned")}
          >
            <TextField label="What is to be done" lines={3} value={reason} onChange={setReason} autoFocus />
            <Button kind="quiet" onPress={() => setReturning(false)}>
              or sign it after all
            </Button>
          </PassphraseForm>
        ) : (
          <PassphraseForm
            words="Sign: I agree"
            isMain
            hindrance={
              (rows && sample ? hindrance : "The second route is still under way.") ??
              (missing > 0 ? `${missing} figures from paper are still to be typed.` : undefined)
            }
            onSign={review("agrees")}
          >
            <Button kind="quiet" onPress={() => setReturning(true)}>
              or return it with a reason
            </Button>
          </PassphraseForm>
        )}
      </section>
    </>
  );
}
