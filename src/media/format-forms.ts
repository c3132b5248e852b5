/** The short forms a format is said in, for the page that lists them. */
import { groupBy } from '../collections/group-by.js';
import { CODINGS, type CodingDescriptor } from './codings/index.js';
import type { FormatForm } from './said.js';

/** Every form, with examples that work. */
export const FORMATS_SAID: readonly FormatForm[] = [
  ...groupBy(
    CODINGS.flatMap(({ said }: CodingDescriptor) => said?.form ?? []),
    ({ title }) => title,
  ).values(),
].map((alike) => ({
  title: alike[0].title,
  examples: alike.flatMap(({ examples }) => examples),
  more: alike[0].more,
}));
