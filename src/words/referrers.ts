/** What refers to a name, in words. */
import type { Referrer } from '../plan/types.js';

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
    case 'houseGroups':
      return 'house groups';
    case 'ptpDomain':
      return `PTP domain ${entity.name ?? entity.number ?? ''}`.trimEnd();
    case 'lipSync':
      return `lip sync ${entity.name}`;
    case 'roundTrip':
      return `round trip ${entity.name}`;
  }
}
