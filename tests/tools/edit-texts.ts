/** Small plans to write values into. */
import { type Path } from '../../src/splice/path.js';
import { applyTo, textOf } from '../tools/edits.js';

export const vlan = (key: string): Path => ['vlans', { name: 'red' }, key];

/** A plan with one VLAN, its keys as given. */
export function plan(...lines: readonly string[]): string {
  return ['rigproof: 1', 'rig: Heron', 'vlans:', '  - name: red', ...lines].join('\n');
}

export function yaml(text: string, ...changes: Parameters<typeof applyTo>[2]): string {
  return textOf(applyTo('heron.yaml', text, changes));
}
