/** Things that can fail, each told once. */
import type { Device, Interface, Link, Switch } from '../../plan/types.js';
import { linkLabel } from '../vlans/index.js';
import type { ForwardingSegment } from './ground.js';
import type { FailingKeys } from './routed-losses.js';

export type ElementKind = 'switch' | 'link' | 'device' | 'interface' | 'risk' | 'power feed';

/** One thing that can fail. */
export interface Element {
  readonly kind: ElementKind;
  readonly name: string;
  readonly thing: Switch | Link | Device | Interface | undefined;
}

/** One object an element, so that elements can key a map. */
export class Elements implements FailingKeys<Element> {
  readonly #byThing = new Map<object, Element>();
  readonly #byName = new Map<string, Element>();

  switch(forwarding: ForwardingSegment, node: number): Element {
    const one = forwarding.segment.nodes[node];
    if (one === undefined) throw new Error('a segment was asked for a node it does not have');
    return this.box(one);
  }

  box(one: Switch): Element {
    return this.#of(one, 'switch', () => one.name);
  }

  link(link: Link): Element {
    return this.#of(link, 'link', () => linkLabel(link));
  }

  device(device: Device): Element {
    return this.#of(device, 'device', () => device.name);
  }

  interface(one: Interface): Element {
    return this.#of(one, 'interface', () => `${one.device.name} ${one.name}`);
  }

  thingOf({ thing }: Element): Switch | Link | Device | undefined {
    return thing === undefined || 'device' in thing ? undefined : thing;
  }

  /** What a spanning tree may turn for. */
  bridging({ thing }: Element): Switch | Link | undefined {
    return thing === undefined || 'device' in thing || 'interfaces' in thing ? undefined : thing;
  }

  named(kind: 'risk' | 'power feed', name: string): Element {
    const key = `${kind} ${name}`;
    let element = this.#byName.get(key);
    if (element === undefined) this.#byName.set(key, (element = { kind, name, thing: undefined }));
    return element;
  }

  #of(thing: Switch | Link | Device | Interface, kind: ElementKind, name: () => string): Element {
    let element = this.#byThing.get(thing);
    if (element === undefined) this.#byThing.set(thing, (element = { kind, name: name(), thing }));
    return element;
  }
}
