/** What an entry of a plan file is to say. */
import type { Container, Document } from '../source/document.js';

/** A value of a plan file that holds no others. */
export type Scalar = string | number | boolean;

/** What an entry may say: a value, or a short list or mapping of values. */
export type EditValue = Scalar | readonly EditValue[] | { readonly [key: string]: EditValue };

/** What an entry of a document's tree says from now on; undefined: it is taken out. */
export interface Edit {
  readonly document: Document;
  readonly container: Container;
  readonly key: string | number;
  readonly value: EditValue | undefined;
}
