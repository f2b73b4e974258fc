import type { AnswerOf, Person } from "@alcedo-dosimetry/protocol";
import { useEffect, useState } from "react";
import { Footer } from "../../app/footer.tsx";
import { Masthead } from "../../app/masthead.tsx";
import { live } from "../../app/session.ts";
import { Button } from "../../look/button.tsx";
import { Table } from "../../look/table.tsx";
import { TextField } from "../../look/text-field.tsx";
import { ask, errorWords } from "../../talk/ask.ts";
import "./people-page.css";

/** Who works here, and the way in for others: a link that makes one person, once. */
export function PeoplePage() {
  const { people, trouble } = usePeople();
  const [id, setId] = useState("");
  const [name, setName] = useState("");
  const [invitation, setInvitation] = useState<AnswerOf<"invite"> & { readonly name: string }>();
  const [fault, setFault] = useState<string>();
  const invite = async () => {
    setFault(undefined);
    try {
      const answer = await ask("invite", { body: { id: id.trim(), name: name.trim() } });
      setInvitation({ ...answer, name: name.trim() });
      setId("");
      setName("");
    } catch (error) {
      setFault(errorWords(error));
    }
  };
  return (
    <>
      <Masthead title="People" />
      <main className="people">
        <section className="sheet" aria-labelledby="people-here">
          <h2 id="people-here">Who works here</h2>
          {trouble !== undefined && <p role="alert">{trouble}</p>}
          {people && (
            <Table<Person>
              label="People"
              rows={people}
              keyOf={(person) => person.id}
              columns={[
                { id: "name", title: "name", names: true, cell: (person) => person.name },
                { id: "id", title: "known as", cell: (person) => <span className="number">{person.id}</span> },
              ]}
            />
          )}
          {people?.length === 1 && (
            <p>
              A campaign is signed by whoever measured, and reviewed by <strong>another</strong> person: invite one.
            </p>
          )}
        </section>
        <section className="sheet" aria-labelledby="people-invite">
          <h2 id="people-invite">Invite a person</h2>
          <p className="muted">
            They get a link, choose a passphrase of their own, and a key to sign with is made for them. The link works
            once, and for one day.
          </p>
          <form
            className="people-form"
            onSubmit={(event) => {
              event.preventDefault();
              void invite();
            }}
          >
            <TextField
              label="Name"
              hint="as it stands under a signature"
              value={name}
              onChange={setName}
              autoComplete="off"
            />
            <TextField
              label="Known as"
              hint="short, in small letters, for the history: j.doe"
              value={id}
              onChange={setId}
              autoComplete="off"
              error={fault}
            />
            <Button type="submit" kind="main" isDisabled={id.trim() === "" || name.trim() === ""}>
              Make a link
            </Button>
          </form>
          {invitation && (
            <div className="people-link" role="status">
              <p>
                For <strong>{invitation.name}</strong>, shown this once; good until{" "}
                {invitation.until.slice(0, 16).replace("T", " ")}:
              </p>
              <p className="number people-address">{invitation.link}</p>
              <Button onPress={() => void navigator.clipboard.writeText(invitation.link)}>Copy the link</Button>
            </div>
          )}
        </section>
      </main>
      <Footer />
    </>
  );
}

function usePeople() {
  const [people, setPeople] = useState<readonly Person[]>();
  const [trouble, setTrouble] = useState<string>();
  useEffect(() => {
    let wanted = true;
    const look = () =>
      void ask("people").then(
        (answer) => wanted && setPeople(answer),
        (error: unknown) => wanted && setTrouble(errorWords(error)),
      );
    look();
    const stop = live().onEvent((event) => {
      if ("people" in event) look();
    });
    return () => {
      wanted = false;
      stop();
    };
  }, []);
  return { people, trouble };
}
