/**
 * Build step: the licence of the program and of every package it runs on, as one text. Whoever has the package has them
 * all, without a network and without the folders they came from.
 */
import { isThere, namesIn, readText, writeText } from '../disk/text.js';

interface Package {
  readonly name: string;
  readonly version: string;
  readonly license?: string;
  readonly homepage?: string;
  readonly dependencies?: Readonly<Record<string, string>>;
}

// Built, this module is in dist/src/edge/.
const ROOT = new URL('../../../', import.meta.url);

const own = packageAt(ROOT);
const found = new Map<string, { readonly at: URL; readonly info: Package }>();
gather(own, ROOT);

const parts = [...found.values()].sort((a, b) => (a.info.name < b.info.name ? -1 : 1));
writeText(
  new URL('dist/program/licences.txt', ROOT),
  [
    `${own.name} ${own.version}: ${licenceOf(own)}`,
    'It runs on:',
    ...parts.map(({ info }) => `  ${info.name} ${info.version}: ${licenceOf(info)}`),
    '',
    section(own, ownText()),
    ...parts.map(({ info, at }) => section(info, textOf(info, at))),
  ].join('\n'),
);

/** All packages that one needs, and those that they need; found as Node finds them, folder by folder upwards. */
function gather({ dependencies = {} }: Package, from: URL): void {
  for (const name of Object.keys(dependencies)) {
    if (found.has(name)) continue;
    const at = folderOf(name, from);
    const info = packageAt(at);
    found.set(name, { at, info });
    gather(info, at);
  }
}

function folderOf(name: string, from: URL): URL {
  for (let folder = from; ; folder = new URL('../', folder)) {
    const at = new URL(`node_modules/${name}/`, folder);
    if (isThere(new URL('package.json', at))) return at;
    if (new URL('../', folder).href === folder.href) throw new Error(`${name} is not installed`);
  }
}

function packageAt(folder: URL): Package {
  return JSON.parse(readText(new URL('package.json', folder))) as Package;
}

function licenceOf({ name, license }: Package): string {
  if (license === undefined) throw new Error(`${name} states no licence`);
  return license;
}

function textOf({ name }: Package, at: URL): string {
  const file = namesIn(at).find((one) => /^licen[cs]e(?:\.|$)/i.test(one));
  if (file === undefined) throw new Error(`${name} has no licence file`);
  return readText(new URL(file, at));
}

/** The program's own stands at the end of README.md. */
function ownText(): string {
  const [, text] = readText(new URL('README.md', ROOT)).split('\n## Licence\n');
  if (text === undefined) throw new Error('README.md has no licence');
  return text;
}

function section({ name, version }: Package, text: string): string {
  const title = `${name} ${version}`;
  return `${title}\n${'-'.repeat(title.length)}\n\n${text.trim()}\n`;
}
