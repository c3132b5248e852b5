import type { Address } from '../../values/address.js';
import type { Mac } from '../../values/mac.js';
import type { Interface, Plan, SwitchAddress } from '../../plan/types.js';
import { append } from '../../collections/group-by.js';

export type Owner = Interface | SwitchAddress;

export interface Owners {
  /** Every interface and switch that holds an address, in plan order: devices first. */
  readonly byAddress: ReadonlyMap<Address, readonly Owner[]>;
  readonly byMac: ReadonlyMap<Mac, readonly Owner[]>;
  /** Addresses that are held more than once. */
  readonly repeatedAddresses: ReadonlySet<Address>;
  readonly repeatedMacs: ReadonlySet<Mac>;
}

/**
 * Who holds which unicast address and which MAC. Each part is made when asked for: a sound plan needs no more than the
 * answer that nothing repeats, which sorted numbers give far sooner than maps of a hundred thousand lists.
 */
export function buildOwners(plan: Plan): Owners {
  const parts: { -readonly [K in keyof Owners]?: Owners[K] } = {};
  return {
    get byAddress() {
      return (parts.byAddress ??= listOwners<Address>(plan, addressesOf));
    },
    get byMac() {
      return (parts.byMac ??= listOwners<Mac>(plan, macOf));
    },
    get repeatedAddresses() {
      return (parts.repeatedAddresses ??= repeatsOf<Address>(plan, addressesOf));
    },
    get repeatedMacs() {
      return (parts.repeatedMacs ??= repeatsOf<Mac>(plan, macOf));
    },
  };
}

type KeysOf<K> = (owner: Owner, add: (key: K | undefined, owner: Owner) => void) => void;

const addressesOf: KeysOf<Address> = (owner, add) => {
  add(owner.address, owner);
  if (isInterface(owner)) add(owner.address6, owner);
};

const macOf: KeysOf<Mac> = (owner, add) => {
  add(owner.mac, owner);
};

function visit<K>(plan: Plan, keysOf: KeysOf<K>, add: (key: K | undefined, owner: Owner) => void): void {
  for (const one of plan.interfaces) keysOf(one, add);
  for (const one of plan.switches) for (const held of one.addresses) keysOf(held, add);
}

function listOwners<K>(plan: Plan, keysOf: KeysOf<K>): ReadonlyMap<K, readonly Owner[]> {
  const owners = new Map<K, Owner[]>();
  visit(plan, keysOf, (key, owner) => {
    if (key === undefined) return;
    append(owners, key, owner);
  });
  return owners;
}

function repeatsOf<K extends Address>(plan: Plan, keysOf: KeysOf<K>): ReadonlySet<K> {
  const numbers: (K & number)[] = [];
  const others = new Set<K>();
  const repeated = new Set<K>();
  visit(plan, keysOf, (key) => {
    if (key === undefined) return;
    if (typeof key === 'number') numbers.push(key);
    else if (others.has(key)) repeated.add(key);
    else others.add(key);
  });
  const sorted = new Float64Array(numbers).sort();
  for (let index = 1; index < sorted.length; index++) {
    const key = sorted[index];
    if (key !== undefined && key === sorted[index - 1]) repeated.add(key as K);
  }
  return repeated;
}

export function isInterface(owner: Owner): owner is Interface {
  return 'device' in owner;
}

/** `cam-1 red`, `switch core-red`. */
export function ownerLabel(owner: Owner): string {
  return isInterface(owner) ? `${owner.device.name} ${owner.name}` : `switch ${owner.switch.name}`;
}
