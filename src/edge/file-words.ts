/** What keeps a file from being read, in words, and what to do instead. */
import type { ReadFault } from '../disk/read.js';
import { startOf } from '../source/locate.js';
import type { Problem } from '../source/problem.js';

export type AnyFault = ReadFault | { readonly fault: 'above' };

export function fileProblem(file: string, what: string, instead: string): Problem {
  return { at: startOf(file), what, instead };
}

export function faultProblem(file: string, fault: AnyFault): Problem {
  return fileProblem(file, ...wordsOf(fault));
}

/** Octets in the unit that people say. */
export function sizeWords(octets: number): string {
  const [unit, word] = octets >= 1e9 ? [1e9, 'GB'] : octets >= 1e6 ? [1e6, 'MB'] : [1e3, 'kB'];
  return `${Number((octets / unit).toFixed(1))} ${word}`;
}

export function wordsOf(fault: AnyFault): readonly [string, string] {
  switch (fault.fault) {
    case 'missing':
      return ['there is no such file or folder', 'check the path'];
    case 'forbidden':
      return ['this may not be read', 'check your right to read it'];
    case 'circle':
      return ['this is a link that leads back to itself', 'take the link out, or point it to a file'];
    case 'above':
      return [
        'this is a link to a folder that holds this one, and would bring all beside it in',
        'take the link out, and name the other folder where you want it too',
      ];
    case 'folder':
      return ['this is a folder, not a file', 'name a file in it'];
    case 'pipe':
      return ['this is a pipe, not a file', 'give what comes through it as standard input: COMMAND | rigproof lint -'];
    case 'device':
      return ['this is a device, not a file', 'name a file, or `-` for standard input'];
    case 'socket':
      return ['this is a socket, not a file', 'name a file'];
    case 'large':
      return [
        `this has more than ${sizeWords(fault.most)}`,
        `if it is a plan, raise the limit: \`--largest-file ${Math.ceil(fault.most / 1e6) * 2}M\``,
      ];
    case 'failed':
      return [`this can't be read (${fault.reason})`, 'check the path and your right to read it'];
  }
}
