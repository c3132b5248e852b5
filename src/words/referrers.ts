/** What refers to a name, in words. */
import type { Referrer, Wanted, WantedKind } from '../plan/types.js';
import { plural } from './counts.js';
import { ptpDomainLabel } from './labels.js';

/** `cam-1`, `mon-1/in`, `switch red-core`, `link R02`, `VLAN red-video`, `a join`. */
export function referrerLabel({ kind, entity }: Referrer): string {
  switch (kind) {
    case 'device':
      return entity.name;
    case 'receiver':
    case 'stream':
      return entity.label;
    case 'switch':
      return `switch ${entity.name}`;
    case 'link':
      return `link ${entity.name ?? entity.ends.map(({ text }) => text).join(' to ')}`;
    case 'vlan':
      return `VLAN ${entity.name}`;
    case 'join':
      return 'a join';
    case 'conventionGroups':
      return 'groups of the conventions';
    case 'ptpDomain':
      return ptpDomainLabel(entity);
    case 'lipSync':
      return `lip sync ${entity.name}`;
    case 'roundTrip':
      return `round trip ${entity.name}`;
  }
}

/** `VLAN red-vidoe`, `port 12 of switch red-start`, `sender \`vdeo\` of cam-1`: what a name is to be the name of. */
export function wantedLabel({ kind, of }: Wanted, name: string): string {
  return `${WANTED[kind]} ${name}${ownerOf(of)}`;
}

/** `VLANs`, `ports of switch red-start`: what many names are to be the names of. */
export function wantedLabels({ kind, of }: Wanted): string {
  return `${MANY_WANTED[kind] ?? plural(WANTED[kind])}${ownerOf(of)}`;
}

const MANY_WANTED: Partial<Record<WantedKind, string>> = { box: 'switches or devices' };

function ownerOf(of: Wanted['of']): string {
  return of === undefined ? '' : ` of ${'ports' in of ? 'switch ' : ''}${of.name}`;
}

const WANTED: Readonly<Record<WantedKind, string>> = {
  vlan: 'VLAN',
  network: 'network',
  switch: 'switch',
  device: 'device',
  box: 'switch or device',
  kind: 'device kind',
  format: 'format',
  stream: 'stream',
  sender: 'sender',
  interface: 'interface',
  port: 'port',
};
