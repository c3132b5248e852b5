/** A request for a plan: what a venue needs, before it has numbers. */
import type { RawDevice, RawFormat, RawNamed, RawPractice } from '../read/raw-plan.js';
import { check } from '../read/checks/request.js';
import { readTree, type Input } from '../read/index.js';
import type { ReadResult } from '../read/result.js';
import type { Document } from '../source/document.js';

export interface RequestNetwork extends RawNamed {
  readonly role?: 'media' | 'audio' | 'control' | 'management' | 'intercom' | 'timing' | 'wan' | 'other';
  readonly leg?: number;
  readonly addresses?: string;
  readonly groups?: string;
  readonly vlanIds?: string;
  readonly dhcp?: number;
  readonly about?: string;
}

export interface RequestVlan extends RawNamed {
  readonly network: string;
  readonly dhcp?: number;
  readonly about?: string;
}

/** Devices of one kind in one area. */
export interface RequestLine extends RawNamed {
  readonly kind: string;
  readonly area?: string;
  readonly count?: number;
  readonly first?: number;
  readonly without?: readonly number[];
  readonly spare?: number;
  readonly takes?: Readonly<Record<string, string>>;
}

export interface RequestSwitch extends RawNamed {
  readonly network: string;
  readonly area?: string;
  readonly ports: number;
  readonly rate?: string;
  readonly uplinkRate?: string;
  readonly uplink?: string;
  readonly boundary?: boolean;
}

export interface RequestPattern {
  readonly groups?: readonly { readonly field: 'area' | 'unit' | 'stream'; readonly bits: number }[];
  readonly streams?: 'essence' | 'order';
  readonly hosts?: 'unit' | 'place';
}

export interface RequestFixed {
  readonly device: string;
  readonly unit?: number;
  readonly interface?: string;
  readonly address?: string;
  readonly stream?: string;
  readonly leg?: number;
  readonly group?: string;
}

/** The tree of a request as `schemas/request.schema.json` admits it. */
export interface RawRequest {
  readonly rig: string;
  readonly venue?: string;
  readonly about?: string;
  readonly growth?: number;
  readonly practice?: RawPractice;
  readonly pattern?: RequestPattern;
  readonly networks: readonly RequestNetwork[];
  readonly vlans?: readonly RequestVlan[];
  readonly areas?: readonly (RawNamed & { readonly about?: string })[];
  readonly formats?: readonly (RawFormat & RawNamed)[];
  readonly kinds: readonly RawDevice[];
  readonly devices: readonly RequestLine[];
  readonly switches?: readonly RequestSwitch[];
  readonly clock?: { readonly domain?: number; readonly grandmasters?: readonly string[] };
  readonly keepClear?: {
    readonly plans?: readonly string[];
    readonly addresses?: readonly string[];
    readonly groups?: readonly string[];
    readonly vlanIds?: readonly (string | number)[];
  };
  readonly fixed?: readonly RequestFixed[];
  readonly moves?: readonly string[];
}

/** Reads a request and holds it against its schema. Never throws on bad input. */
export function readRequest(input: Input): ReadResult {
  return readTree(input, { name: 'request', check });
}

/** The tree of a document that has passed the schema. */
export function rawRequest(document: Document): RawRequest {
  return document.value as RawRequest;
}
