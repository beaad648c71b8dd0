/** Small controls that know nothing of the page. */

import type { ComponentChildren } from "preact";
import { useEffect, useId, useRef, useState } from "preact/hooks";

/** A part of the page that opens and closes. */
export function Section(props: {
  title: string;
  help?: string;
  open?: boolean;
  id: string;
  onToggle?: (open: boolean) => void;
  children: ComponentChildren;
}) {
  return (
    <details
      class="section"
      open={props.open ?? false}
      data-testid={props.id}
      onToggle={(event) => props.onToggle?.(event.currentTarget.open)}
    >
      <summary>
        <h2>{props.title}</h2>
      </summary>
      {props.help && <p class="help">{props.help}</p>}
      {props.children}
    </details>
  );
}

/** A range with words at both ends and what it says now. */
export function Dial(props: {
  label: string;
  low: string;
  high: string;
  min: number;
  max: number;
  step?: number;
  value: number;
  shown: string;
  help?: string;
  onInput: (value: number) => void;
}) {
  const id = useId();
  return (
    <div class="dial">
      <label for={id}>
        {props.label} <output for={id}>{props.shown}</output>
      </label>
      <div class="between">
        <span aria-hidden="true">{props.low}</span>
        <input
          id={id}
          type="range"
          min={props.min}
          max={props.max}
          step={props.step ?? 1}
          value={props.value}
          aria-valuetext={props.shown}
          aria-describedby={props.help ? `${id}-help` : undefined}
          onInput={(event) => props.onInput(Number(event.currentTarget.value))}
        />
        <span aria-hidden="true">{props.high}</span>
      </div>
      {props.help && (
        <p class="help" id={`${id}-help`}>
          {props.help}
        </p>
      )}
    </div>
  );
}

/** A line of text that is said when it is left or entered. */
export function Field(props: {
  label: string;
  value: string;
  hint?: string;
  number?: boolean;
  wrong?: boolean;
  onChange: (value: string) => void;
}) {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{props.label}</label>
      <input
        id={id}
        type="text"
        inputMode={props.number ? "numeric" : "text"}
        value={props.value}
        placeholder={props.hint}
        autocomplete="off"
        aria-invalid={props.wrong ? "true" : undefined}
        onChange={(event) => props.onChange(event.currentTarget.value)}
      />
    </div>
  );
}

/** One of several, as buttons. */
export function OneOf<T extends string>(props: {
  label: string;
  options: readonly (readonly [T, string])[];
  value: T;
  onChange: (value: T) => void;
}) {
  const id = useId();
  return (
    <fieldset class="one-of">
      <legend>{props.label}</legend>
      <div class="row">
        {props.options.map(([value, words]) => (
          <label key={value} class="pill">
            <input type="radio" name={id} checked={props.value === value} onChange={() => props.onChange(value)} />
            <span>{words}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

/** A switch with its words. */
export function Switch(props: { label: string; value: boolean; onChange: (value: boolean) => void }) {
  return (
    <label class="pill">
      <input type="checkbox" checked={props.value} onChange={(event) => props.onChange(event.currentTarget.checked)} />
      <span>{props.label}</span>
    </label>
  );
}

/** A button that chooses a file. */
export function Choose(props: {
  label: string;
  accept: string;
  capture?: boolean;
  multiple?: boolean;
  main?: boolean;
  id?: string;
  onFiles: (files: File[]) => void;
}) {
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" class={props.main ? "main" : ""} onClick={() => input.current?.click()}>
        {props.label}
      </button>
      <input
        ref={input}
        type="file"
        hidden
        accept={props.accept}
        multiple={props.multiple ?? false}
        capture={props.capture ? "environment" : undefined}
        data-testid={props.id}
        onChange={(event) => {
          const files = [...(event.currentTarget.files ?? [])];
          event.currentTarget.value = "";
          if (files.length > 0) props.onFiles(files);
        }}
      />
    </>
  );
}

/** What the engine says as part of a line, as a line of its own. */
export const sentence = (words: string): string => {
  const quoted = words.replace(/`([^`]*)`/g, "“$1”");
  return quoted.charAt(0).toUpperCase() + quoted.slice(1) + (/[.!?”]$/.test(quoted) ? "" : ".");
};

/** What went wrong, beside what caused it. */
export function Wrong(props: { words: string; hint: string | null; dismiss: string; onDismiss: () => void }) {
  return (
    <div class="wrong" role="alert">
      <p>{sentence(props.words)}</p>
      {props.hint && <p class="help">{sentence(props.hint)}</p>}
      <button type="button" class="quiet" onClick={props.onDismiss}>
        {props.dismiss}
      </button>
    </div>
  );
}

/** An address of bytes, for as long as it is shown. */
export function useAddress(bytes: Uint8Array<ArrayBuffer> | null, type = "image/png"): string | undefined {
  const [address, setAddress] = useState<string>();
  useEffect(() => {
    if (!bytes) return setAddress(undefined);
    const made = URL.createObjectURL(new Blob([bytes], { type }));
    setAddress(made);
    return () => URL.revokeObjectURL(made);
  }, [bytes, type]);
  return address;
}

/** What is said aloud as it changes. */
export function Spoken({ words }: { words: string }) {
  return (
    <div class="spoken" role="status" aria-live="polite">
      {words}
    </div>
  );
}
