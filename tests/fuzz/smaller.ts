/** The smallest input that still shows a fault, by leaving out whatever may be left out. */
import type { Content, Files } from './case.js';
import { copyOf, drop, spotsOf, type Json } from './json.js';

type Fails = (files: Files) => Promise<boolean>;

export async function smaller(files: Files, fails: Fails, ms: number): Promise<Files> {
  const end = performance.now() + ms;
  let now = files;
  for (const name of Object.keys(files)) {
    const { [name]: content = '', ...others } = now;
    const still = (next: Content): Promise<boolean> => fails({ ...others, [name]: next });
    now = { ...now, [name]: await lessOf(content, still, end) };
  }
  return now;
}

async function lessOf(content: Content, still: (next: Content) => Promise<boolean>, end: number): Promise<Content> {
  if (typeof content !== 'string') return content;
  const tree = treeOf(content);
  return tree === undefined ? fewerPieces(content, still, end) : fewerEntries(tree, content, still, end);
}

function treeOf(text: string): Json | undefined {
  try {
    return JSON.parse(text) as Json;
  } catch {
    return undefined;
  }
}

/** Entries of a tree, the outer ones first. */
async function fewerEntries(
  tree: Json,
  text: string,
  still: (next: string) => Promise<boolean>,
  end: number,
): Promise<string> {
  let [least, shown] = [tree, text];
  for (let index = 0; index < spotsOf(least).length && performance.now() < end;) {
    const next = copyOf(least);
    const spot = spotsOf(next)[index];
    if (spot === undefined) break;
    drop(spot);
    const written = JSON.stringify(next, undefined, 1);
    if (await still(written)) [least, shown] = [next, written];
    else index++;
  }
  return shown;
}

/** Pieces of a text, halves first and single characters last. */
async function fewerPieces(text: string, still: (next: string) => Promise<boolean>, end: number): Promise<string> {
  let least = text;
  for (let size = Math.ceil(least.length / 2); size >= 1; size = size === 1 ? 0 : Math.ceil(size / 2)) {
    for (let at = 0; at < least.length && performance.now() < end;) {
      const next = least.slice(0, at) + least.slice(at + size);
      if (await still(next)) least = next;
      else at += size;
    }
  }
  return least;
}
