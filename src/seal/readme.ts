import { encodedName, tokenName } from './bag-lists.ts';

/** What the words for a finder need to know. */
export interface ReadmeFacts {
  /** The car, as on the cover. */
  title: string;
  /** Date of the last visit, null where not written. */
  seenOn: string | null;
  editions: readonly { id: string; title: string; reader: string }[];
  /** Whether the originals are left out. */
  publicCopy: boolean;
  issues: boolean;
  /** Names in the bag, with `data/`. */
  names: readonly string[];
}

/** The text for somebody who finds the bag in ten years, without any program. It says nothing of the day of packing, so that a bag packed again with a time stamp has the same manifest. */
export function readmeText(facts: ReadmeFacts): string {
  return `${[whatItIs(facts), whatToOpen(facts), howToCheck(facts), whatItProves()].join('\n\n')}\n`;
}

function whatItIs({ title, seenOn, publicCopy }: ReadmeFacts): string {
  return `WHAT THIS IS

The record of one car: ${title}${seenOn === null ? '' : `, last seen ${seenOn}`}. It was put together by the program
Sillbook, which nobody needs in order to read it. All files are ordinary ones: web pages, PDF, text, pictures.
The folder is a "bag" after RFC 8493 (BagIt 1.0): everything that counts lies in "data"; the text files beside it are
lists to check it with.${publicCopy ? `

THIS IS A PUBLIC COPY: the originals (the photos as they came from the camera, the findings as typed, and files kept
beside them) are left out, and so is what was handed over before. Their hashes stand in originals-sha256.txt of each dossier, so that whoever holds the originals
can show that they are those the dossier was made from.` : ''}`;
}

function whatToOpen({ editions, publicCopy, issues }: ReadmeFacts): string {
  const lines = editions.map(({ id, title, reader }) => `  dossiers/${id}/index.html   ${title}, for ${reader}`);
  return `WHAT TO OPEN FIRST

Each dossier says the same with other things first. Open index.html in any browser, or dossier.pdf in the same folder:
${lines.join('\n')}
In each folder dossier.json holds everything for programs, dossier.schema.json says how it is built, and the files that
end in .csv open in a spreadsheet.${issues ? `
  issues/      dossiers that were handed over, each in a folder by its number, as it was handed over. Where it
               matters what somebody was given, open these; the dossiers above were made for keeping` : ''}${publicCopy ? '' : `
  originals/   photos, findings and everything else of the job, byte for byte as they lay there. Photos from a phone hold the
               place, the device and perhaps the owner's name: do not publish this folder`}`;
}

function howToCheck({ names }: ReadmeFacts): string {
  const odd = names.filter((name) => encodedName(name) !== name);
  return `HOW TO CHECK THAT NOTHING HAS CHANGED

In the folder that holds manifest-sha256.txt:
  Linux     sha256sum -c manifest-sha256.txt
  Mac       shasum -a 256 -c manifest-sha256.txt
  Windows   in PowerShell, for one file: Get-FileHash data\\README.txt -Algorithm SHA256
            and compare with its line in manifest-sha256.txt
manifest-sha512.txt is the same with SHA-512; tagmanifest-sha256.txt does it for the lists themselves. Files that were
added since are not found this way: every file in "data" must have a line in the manifest. Any program for BagIt finds
both, and "sillbook verify" does.${odd.length === 0 ? '' : `

An exception: in the names below, RFC 8493 has %, carriage return and line feed written as %25, %0D and %0A. sha256sum
looks for them as they are listed and does not find them; check these by hand:
${odd.map((name) => `  ${encodedName(name)}`).join('\n')}`}`;
}

function whatItProves(): string {
  return `WHAT A MATCH PROVES, AND WHAT NOT

A match shows that the files are those the lists were made of. It does not show when that was or who did it: whoever can
change the files can change the lists too. It proves something to you if somebody else has kept the hash of
manifest-sha256.txt since. So lodge it: mail it to the insurer, note it on the invoice. It is what
  sha256sum manifest-sha256.txt
prints. It says nothing about whether what was found and judged is right.

If there is a file ${tokenName}, a time stamping authority has confirmed (RFC 3161) that
manifest-sha256.txt existed before the time in it. "sillbook verify" reads it, and so does
  openssl ts -verify -data manifest-sha256.txt -in ${tokenName} -CAfile <certificate of its root>`;
}
