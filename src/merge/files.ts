/** Names of the rigs' files on a change sheet: the same wherever the plans lie. */
import { wholeOf } from './ancestor.js';
import type { Document } from '../source/document.js';
import type { Side } from './sides.js';

/** Rigs as documents, and how they meet. */
export interface Joined {
  readonly sides: readonly Side[];
  readonly joining: readonly Document[];
}

/** `Osprey/devices.yaml`: the rig, then the file as it lies below what the rig was named by; `join.yaml` for how they meet. */
export function fileNames({ sides, joining }: Joined): (document: Document) => string {
  const names = new Map<string, string>();
  for (const { name, from, documents } of sides)
    for (const document of documents) names.set(document.name, `${folderName(name)}/${below(from, document.name)}`);
  for (const document of joining) names.set(document.name, lastPart(document.name));
  return (document) => names.get(document.name) ?? lastPart(document.name);
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

/** A rig's name as the name of a folder, on any system. */
function folderName(name: string): string {
  const plain = name.replace(/[<>:"/\\|?*]/g, '-').replace(/^\.+/, '');
  return plain === '' ? 'rig' : plain;
}

function below(from: string, file: string): string {
  const folder = `${from.replace(/[/\\]+$/, '')}/`;
  const normal = file.replaceAll('\\', '/');
  const start = folder.replaceAll('\\', '/').replace(/^\.\//, '');
  return normal.replace(/^\.\//, '').startsWith(start)
    ? normal.replace(/^\.\//, '').slice(start.length)
    : lastPart(file);
}

function lastPart(file: string): string {
  return file.split(/[/\\]/).at(-1) ?? file;
}
