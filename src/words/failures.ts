/** What can fail, in words alike in all rules on redundancy. */
import type { Element } from '../model/network/index.js';

/** One thing that can fail, by its name. */
export type NamedElement = Pick<Element, 'kind' | 'name'>;

/** `switch leaf-a`, `link R02`, `power feed truck-a`, `shared risk towpath duct`. */
export function elementLabel({ kind, name }: NamedElement): string {
  return `${kind === 'risk' ? 'shared risk' : kind} ${name}`;
}

/** What a link or switch shares with others: a risk it states, or the only feed it hangs on. */
export type SharedNote = { readonly risk: string } | { readonly onlyFeed: string };

/** `link R02: towpath duct`, `switch leaf-a: truck-a alone`. */
export function sharedLabel(name: string, note: SharedNote): string {
  return 'risk' in note ? `${name}: ${note.risk}` : `${name}: ${note.onlyFeed} alone`;
}
