/**
 * XML as a tree, read and written. No entity is expanded but the five of XML and character numbers; a document type
 * is refused; size and depth are limited.
 */
import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { refused, understood, type Result } from './result.ts';

export interface XmlAttribute {
  /** As written, with its prefix. */
  readonly name: string;
  /** Namespace address; '' where there is none. */
  readonly namespace: string;
  readonly local: string;
  readonly value: string;
}

export interface XmlElement {
  /** As written, with its prefix. */
  readonly name: string;
  /** Namespace address; '' where there is none. */
  readonly namespace: string;
  readonly local: string;
  readonly attributes: readonly XmlAttribute[];
  readonly children: readonly (XmlElement | string)[];
}

const MAX_LENGTH = 64 * 1024 * 1024;
const MAX_DEPTH = 90;
const TEXT = '#text';
const CDATA = '#cdata';
const ATTRIBUTES = ':@';

const parser = new XMLParser({
  preserveOrder: true,
  ignoreAttributes: false,
  attributeNamePrefix: '',
  processEntities: false,
  htmlEntities: false,
  trimValues: false,
  parseTagValue: false,
  parseAttributeValue: false,
  ignoreDeclaration: true,
  ignorePiTags: true,
  cdataPropName: CDATA,
  maxNestedTags: MAX_DEPTH,
});

/**
 * The root element of an XML document.
 *
 * @param where what is being read, for the fault: "gpx"
 * @returns refused when the text is not well formed, holds a document type, or is too large or too deep
 */
export function parseXml(text: string, where: string): Result<XmlElement> {
  const accepted = 'well-formed XML';
  if (text.length > MAX_LENGTH) {
    return refused({ where, found: `${text.length} characters`, accepted: `at most ${MAX_LENGTH}` });
  }
  if (/<!(DOCTYPE|ENTITY)/i.test(text)) {
    return refused({ where, found: 'a document type declaration', accepted: 'XML without one' });
  }
  const body = text.replace(/^\uFEFF/, '').trimStart();
  if (!body.startsWith('<')) {
    return refused({ where, found: body === '' ? 'nothing' : 'text that is no XML', accepted });
  }
  try {
    const verdict = XMLValidator.validate(body);
    if (verdict !== true) {
      const found = `XML damaged at line ${verdict.err.line}`;
      return refused({ where, found, accepted });
    }
    const root = rawNodes(parser.parse(body)).find((node) => elementName(node) !== null);
    if (root !== undefined) return understood(toElement(root, new Map([['xml', XML_NAMESPACE]])));
    return refused({ where, found: 'XML without an element', accepted });
  } catch {
    return refused({ where, found: 'damaged or too deeply nested XML', accepted });
  }
}

const XML_NAMESPACE = 'http://www.w3.org/XML/1998/namespace';

/** The first child element of that name, whatever its prefix; undefined where there is none. */
export function childOf(element: XmlElement, local: string): XmlElement | undefined {
  return childrenOf(element, local)[0];
}

/** The child elements, or those of one name, whatever their prefix. */
export function childrenOf(element: XmlElement, local?: string): readonly XmlElement[] {
  return element.children.filter(
    (child): child is XmlElement =>
      typeof child !== 'string' && (local === undefined || child.local === local),
  );
}

/** The text inside an element and all below it, trimmed. */
export function textOf(element: XmlElement | undefined): string {
  if (element === undefined) return '';
  const parts = element.children.map((child) => (typeof child === 'string' ? child : textOf(child)));
  return parts.join('').trim();
}

/** An attribute's value by its name without prefix; undefined where there is none. */
export function attributeOf(element: XmlElement, local: string): string | undefined {
  return element.attributes.find((attribute) => attribute.local === local)?.value;
}

/** A text as it may stand inside XML; characters that XML 1.0 cannot hold are left out. */
export function escapeXml(text: string): string {
  return [...text]
    .filter((c) => isXmlCharacter(c.codePointAt(0) ?? 0))
    .join('')
    .replace(/[&<>"]/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[c] ?? c)
    .replace(/\r/g, '&#13;');
}

/** An element and all below it as text, as it was written: prefixes and declarations stay. */
export function writeXml(element: XmlElement): string {
  const attributes = element.attributes.map((a) => ` ${a.name}="${escapeAttribute(a.value)}"`).join('');
  if (element.children.length === 0) return `<${element.name}${attributes}/>`;
  const inside = element.children.map((c) => (typeof c === 'string' ? escapeXml(c) : writeXml(c))).join('');
  return `<${element.name}${attributes}>${inside}</${element.name}>`;
}

function escapeAttribute(value: string): string {
  return escapeXml(value).replace(/\n/g, '&#10;').replace(/\t/g, '&#9;');
}

function isXmlCharacter(code: number): boolean {
  if (code < 0x20) return code === 9 || code === 10 || code === 13;
  return code < 0xd800 || (code > 0xdfff && code !== 0xfffe && code !== 0xffff);
}

const named: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

function unescapeXml(text: string): string {
  return text.replace(
    /&(?:#x([0-9a-f]{1,6})|#(\d{1,7})|(amp|lt|gt|quot|apos));/gi,
    (whole, hex, decimal, name) => {
      if (typeof name === 'string') return named[name.toLowerCase()] ?? whole;
      const code = typeof hex === 'string' ? Number.parseInt(hex, 16) : Number(decimal);
      return code <= 0x10ffff && isXmlCharacter(code) ? String.fromCodePoint(code) : '';
    },
  );
}

type RawNode = Readonly<Record<string, unknown>>;

const rawNodes = (value: unknown): readonly RawNode[] =>
  Array.isArray(value) ? value.filter((n): n is RawNode => typeof n === 'object' && n !== null) : [];

const elementName = (node: RawNode): string | null =>
  Object.keys(node).find((key) => key !== ATTRIBUTES && key !== TEXT && key !== CDATA && key[0] !== '?') ??
  null;

function toElement(node: RawNode, outer: ReadonlyMap<string, string>): XmlElement {
  const name = elementName(node) ?? '';
  const raw = node[ATTRIBUTES];
  const written = typeof raw === 'object' && raw !== null ? Object.entries(raw) : [];
  const texts = written.map(([key, value]) => [key, unescapeXml(String(value))] as const);
  const scope = new Map(outer);
  for (const [key, value] of texts) {
    if (key === 'xmlns') scope.set('', value);
    else if (key.startsWith('xmlns:')) scope.set(key.slice(6), value);
  }
  const [prefix, local] = split(name);
  return {
    name,
    local,
    namespace: scope.get(prefix) ?? '',
    attributes: texts.map(([key, value]) => {
      const [keyPrefix, keyLocal] = split(key);
      return {
        name: key,
        namespace: keyPrefix === '' ? '' : (scope.get(keyPrefix) ?? ''),
        local: keyLocal,
        value,
      };
    }),
    children: rawNodes(node[name]).flatMap((child) => toChild(child, scope)),
  };
}

function toChild(node: RawNode, scope: ReadonlyMap<string, string>): (XmlElement | string)[] {
  if (elementName(node) !== null) return [toElement(node, scope)];
  if (CDATA in node) return rawNodes(node[CDATA]).map((inner) => String(inner[TEXT] ?? ''));
  return TEXT in node ? [unescapeXml(String(node[TEXT]))] : [];
}

function split(name: string): readonly [string, string] {
  const colon = name.indexOf(':');
  return colon < 0 ? ['', name] : [name.slice(0, colon), name.slice(colon + 1)];
}
