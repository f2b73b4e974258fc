import { CAUTIONS } from "@alcedo-dosimetry/campaign";
import { problemKind } from "@alcedo-dosimetry/protocol";
import { useState } from "react";
import { refreshMe } from "../../app/session.ts";
import { Button } from "../../look/button.tsx";
import { TextField } from "../../look/text-field.tsx";
import { ask, errorWords, ProblemError } from "../../talk/ask.ts";
import { Door } from "../login/door.tsx";
import { faultsOf, type NewPerson, proposedId } from "./passphrase.ts";

/** Where a one-time link leads: somebody new says who they are, and chooses a passphrase. */
export function FirstPage({ token }: { readonly token: string }) {
  const [person, setPerson] = useState<NewPerson>({ name: "", id: "", passphrase: "", again: "" });
  const [ownId, setOwnId] = useState(false);
  const [tried, setTried] = useState(false);
  const [isSending, setSending] = useState(false);
  const [trouble, setTrouble] = useState<{ readonly words: string; readonly isSpent: boolean }>();
  const faults = tried ? faultsOf(person) : {};
  const change = (part: Partial<NewPerson>) => setPerson((now) => ({ ...now, ...part }));
  const error = (field: keyof NewPerson) => (faults[field] === undefined ? {} : { error: faults[field] });
  const send = async () => {
    setTried(true);
    if (Object.keys(faultsOf(person)).length > 0) return;
    setSending(true);
    setTrouble(undefined);
    try {
      const { name, id, passphrase } = person;
      await ask("first", { body: { token, name: name.trim(), id, passphrase } });
      // the link is spent: it does not stay in the list of pages
      location.replace("#/fibres");
      await refreshMe();
    } catch (problem) {
      const isSpent = problem instanceof ProblemError && problemKind(problem.problem) === "link-spent";
      setTrouble({ words: errorWords(problem), isSpent });
      setSending(false);
    }
  };
  return (
    <Door
      title="Who are you?"
      words="This link works once. It makes you a person of this workbench: whatever you change bears your name, and what you sign is signed with a key that only your passphrase opens."
    >
      <form
        className="door-form"
        onSubmit={(event) => {
          event.preventDefault();
          void send();
        }}
      >
        <TextField
          label="Name"
          hint="As it stands under reports."
          value={person.name}
          autoComplete="name"
          autoFocus
          onChange={(name) => change(ownId ? { name } : { name, id: proposedId(name) })}
          {...error("name")}
        />
        <TextField
          label="Short name"
          hint="You log in with it, and it stands beside every change. It cannot be changed later."
          value={person.id}
          autoComplete="username"
          mono
          onChange={(id) => {
            setOwnId(true);
            change({ id });
          }}
          {...error("id")}
        />
        <TextField
          label="Passphrase"
          hint="It is asked again at every signature. Nobody can give it back to you: without it your key stays shut, and you are invited anew. What you signed stays signed."
          type="password"
          autoComplete="new-password"
          value={person.passphrase}
          onChange={(passphrase) => change({ passphrase })}
          {...error("passphrase")}
        />
        <TextField
          label="Passphrase, once more"
          hint="Because a slip in the first would shut you out."
          type="password"
          autoComplete="new-password"
          value={person.again}
          onChange={(again) => change({ again })}
          {...error("again")}
        />
        {trouble && (
          <p className="door-trouble" role="alert">
            △ {trouble.words}
            {trouble.isSpent && (
              <>
                {" "}
                <a href="#/fibres">Log in</a>, if you are known here already.
              </>
            )}
          </p>
        )}
        <Button kind="main" type="submit" isDisabled={isSending}>
          {isSending ? "One moment …" : "Come in"}
        </Button>
      </form>
      <p className="muted small">{CAUTIONS}</p>
    </Door>
  );
}
