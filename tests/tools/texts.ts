/** Documents and inputs that are known to be text. */
import type { Input, TextInput } from '../../src/read/index.js';
import type { Document } from '../../src/source/document.js';
import { isText, type TextDocument } from '../../src/source/text-document.js';

export function asText(document: Document): TextDocument {
  if (!isText(document)) throw new Error(`${document.name} is no text`);
  return document;
}

export function asTextInput(input: Input): TextInput {
  if (!('text' in input)) throw new Error(`${input.name} is no text`);
  return input;
}
