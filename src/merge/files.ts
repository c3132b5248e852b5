/** Names of the rigs' files on a change sheet: the same wherever the plans lie. */
import { append } from '../collections/group-by.js';
import { wholeOf } from './ancestor.js';
import type { Document } from '../source/document.js';
import type { Side } from './sides.js';

/** Rigs as documents, and how they meet. */
export interface Joined {
  readonly sides: readonly Side[];
  readonly joining: readonly Document[];
}

/** `Dunlin/devices.yaml`: the rig, then the file as it lies below what the rig was named by; `join.yaml` for how they meet. */
export function fileNames({ sides, joining }: Joined): (document: Document) => string {
  const names = new Map<string, string>();
  for (const { name, from, documents } of sides)
    for (const document of documents) names.set(document.name, `${folderName(name)}/${below(from, document.name)}`);
  for (const document of joining) names.set(document.name, lastPart(document.name));
  return (document) => names.get(document.name) ?? lastPart(document.name);
}

/** Names that several files would have: rigs `A:B` and `A?B`, two join files called `join.yaml`. */
export function twiceNamed({
  sides,
  joining,
}: Joined): readonly { readonly file: string; readonly documents: readonly Document[] }[] {
  const nameOf = fileNames({ sides, joining });
  const byName = new Map<string, Document[]>();
  for (const document of [...sides.flatMap(({ documents }) => documents), ...joining])
    append(byName, nameOf(document), document);
  return [...byName].flatMap(([file, documents]) => (documents.length > 1 ? [{ file, documents }] : []));
}

/** Every document by its name on a sheet, as the file says it. */
export function documentsByFile(joined: Joined): ReadonlyMap<string, Document> {
  const nameOf = fileNames(joined);
  return new Map(
    [...joined.sides.flatMap(({ documents }) => documents), ...joined.joining].map((document) => [
      nameOf(document),
      wholeOf(document),
    ]),
  );
}

/** A rig's name as the name of a folder, on any system: no sign, no end and no word that one of them keeps for itself. */
function folderName(name: string): string {
  const plain = name
    .replace(/[<>:"/\\|?*]/g, '-')
    .replace(/^\.+/, '')
    .replace(/[. ]+$/, '');
  if (plain === '') return 'rig';
  return /^(?:con|prn|aux|nul|com\d|lpt\d)(?:\.|$)/i.test(plain) ? `${plain}-` : plain;
}

function below(from: string, file: string): string {
  const folder = steps(from);
  const path = steps(file);
  return path.length > folder.length && folder.every((step, index) => path[index] === step)
    ? path.slice(folder.length).join('/')
    : lastPart(file);
}

/** The steps of a path, without those that lead nowhere: `./a/../b/c` is `b/c`. */
function steps(path: string): readonly string[] {
  const found: string[] = [];
  for (const step of path.replaceAll('\\', '/').split('/')) {
    if (step === '..' && found.length > 0 && found.at(-1) !== '..') found.pop();
    else if (step !== '.' && (step !== '' || found.length === 0)) found.push(step);
  }
  return path.startsWith('/') ? found : found.filter((step) => step !== '');
}

function lastPart(file: string): string {
  const last = file.split(/[/\\]/).at(-1) ?? file;
  // Standard input has a name that no file should have.
  return /^<.*>$/.test(last) ? `${last.slice(1, -1)}.yaml` : last;
}
