import { createHash } from 'node:crypto';
import { PDFHexString, PDFName, PDFRawStream, PDFString } from 'pdf-lib';
import type { PDFDocument, PDFRef } from 'pdf-lib';
import sharp from 'sharp';
import type { Dossier } from '../../model/dossier.ts';

/** Title, author and the like: in the Info dictionary and, equal to the letter, in XMP. */
interface Particulars {
  title: string;
  author: string;
  subject: string;
  creator: string;
  producer: string;
  language: string;
  /** `2026-03-15T00:00:00Z`; null for a draft of an undated visit, which then has no date: the clock is not asked. */
  date: string | null;
}

/** Writes Info, XMP, language, output intent, page labels, and an identifier made from the content. `part` of PDF/A: only 3 takes files of any kind inside. */
export async function addMetadata(pdf: PDFDocument, dossier: Dossier, structure: { tree: PDFRef; outline: PDFRef; seed: string; part: 2 | 3 }): Promise<void> {
  const { catalog, context } = pdf;
  const particulars = particularsOf(dossier);
  pdf.setTitle(particulars.title, { showInWindowTitleBar: true });
  pdf.setSubject(particulars.subject);
  pdf.setCreator(particulars.creator);
  pdf.setProducer(particulars.producer);
  pdf.setLanguage(particulars.language);
  if (particulars.author) pdf.setAuthor(particulars.author);
  const date = documentDate(dossier);
  if (date) {
    pdf.setCreationDate(date);
    pdf.setModificationDate(date);
  }
  catalog.set(PDFName.of('StructTreeRoot'), structure.tree);
  catalog.set(PDFName.of('Outlines'), structure.outline);
  catalog.set(PDFName.of('PageMode'), PDFName.of('UseOutlines'));
  catalog.set(PDFName.of('MarkInfo'), context.obj({ Marked: true }));
  catalog.set(PDFName.of('PageLabels'), context.obj({ Nums: [0, { S: 'D' }] }));
  catalog.set(PDFName.of('OutputIntents'), context.obj([await outputIntent(pdf)]));
  // Uncompressed, so that tools which know nothing of PDF find it.
  const xmp = new TextEncoder().encode(xmpOf(particulars, structure.part));
  catalog.set(PDFName.of('Metadata'), context.register(PDFRawStream.of(context.obj({ Type: 'Metadata', Subtype: 'XML' }), xmp)));
  const id = PDFHexString.of(createHash('sha256').update(structure.seed).digest('hex').slice(0, 32));
  context.trailerInfo.ID = context.obj([id, id]);
}

/** The day of issue, of a draft that of the visit; null where neither is known. */
export function documentDate(dossier: Dossier): Date | null {
  const text = dossier.status.kind === 'issue' ? dossier.status.date : dossier.seenOn;
  const day = /^\d{4}-\d{2}-\d{2}/.exec(text ?? '')?.[0];
  return day ? new Date(`${day}T00:00:00Z`) : null;
}

function particularsOf(dossier: Dossier): Particulars {
  const { name, version } = dossier.generator;
  return {
    title: plain(dossier.title),
    author: plain(dossier.author),
    subject: plain(dossier.subtitle),
    creator: `${name} ${version}`,
    producer: 'pdf-lib 1.17.1',
    language: dossier.language,
    date: documentDate(dossier)?.toISOString().replace('.000Z', 'Z') ?? null,
  };
}

/** XML has no room for control characters; both places take the same text. */
function plain(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is taken out.
  return text.normalize('NFC').replace(/[\u0000-\u001f\ufffe\uffff]+/g, ' ').trim();
}

/** sRGB, with the profile that sharp puts into pictures. */
async function outputIntent(pdf: PDFDocument): Promise<PDFRef> {
  const pixel = await sharp({ create: { width: 1, height: 1, channels: 3, background: '#ffffff' } }).withIccProfile('srgb').jpeg().toBuffer();
  const { icc } = await sharp(pixel).metadata();
  if (!icc) throw new Error('sharp gave no sRGB profile');
  const { context } = pdf;
  const name = PDFString.of('sRGB IEC61966-2.1');
  const intent = context.obj({ Type: 'OutputIntent', S: 'GTS_PDFA1', OutputConditionIdentifier: name, Info: name, RegistryName: PDFString.of('http://www.color.org') });
  intent.set(PDFName.of('DestOutputProfile'), context.register(context.flateStream(new Uint8Array(icc), { N: 3 })));
  return context.register(intent);
}

/** The XMP packet: level a of PDF/A and PDF/UA-1, with the extension schema PDF/A wants for the latter. */
function xmpOf(particulars: Particulars, part: 2 | 3): string {
  const { title, author, subject, creator, producer, language, date } = particulars;
  const text = (value: string): string => value.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
  const alternative = (value: string): string => `<rdf:Alt><rdf:li xml:lang="x-default">${text(value)}</rdf:li></rdf:Alt>`;
  const property = (name: string, kind: string, description: string): string =>
    `<rdf:li rdf:parseType="Resource"><pdfaProperty:category>internal</pdfaProperty:category><pdfaProperty:description>${description}</pdfaProperty:description><pdfaProperty:name>${name}</pdfaProperty:name><pdfaProperty:valueType>${kind}</pdfaProperty:valueType></rdf:li>`;
  return `<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/" xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">
<dc:format>application/pdf</dc:format>
<dc:title>${alternative(title)}</dc:title>
${author ? `<dc:creator><rdf:Seq><rdf:li>${text(author)}</rdf:li></rdf:Seq></dc:creator>\n` : ''}<dc:description>${alternative(subject)}</dc:description>
<dc:language><rdf:Bag><rdf:li>${language}</rdf:li></rdf:Bag></dc:language>
<xmp:CreatorTool>${text(creator)}</xmp:CreatorTool>
${date ? `<xmp:CreateDate>${date}</xmp:CreateDate><xmp:ModifyDate>${date}</xmp:ModifyDate>\n` : ''}<pdf:Producer>${producer}</pdf:Producer>
<pdfaid:part>${part}</pdfaid:part><pdfaid:conformance>A</pdfaid:conformance><pdfuaid:part>1</pdfuaid:part>
</rdf:Description>
<rdf:Description rdf:about="" xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/" xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#" xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#"><pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource"><pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI><pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix><pdfaSchema:schema>PDF/UA identification schema</pdfaSchema:schema><pdfaSchema:property><rdf:Seq>${property('part', 'Integer', 'PDF/UA version identifier')}</rdf:Seq></pdfaSchema:property></rdf:li></rdf:Bag></pdfaExtension:schemas></rdf:Description>
</rdf:RDF></x:xmpmeta>
<?xpacket end="w"?>`;
}
