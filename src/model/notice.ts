import { z } from 'zod';

/** How much a notice weighs: an `error` makes the dossier untrue and stops the build. */
export const levels = ['error', 'warning', 'note'] as const;
export type Level = (typeof levels)[number];

/** A point in a file of the job as it lies on disk. Lines and columns count from 1; columns are UTF-16 units. */
export const spotSchema = z.object({
  /** Path relative to the job folder, with `/`. */
  file: z.string(),
  line: z.int().min(1).optional(),
  column: z.int().min(1).optional(),
});
export type Spot = z.infer<typeof spotSchema>;

/** What went wrong, where, and what to do. Bad input becomes one of these, never an exception. */
export const noticeSchema = z.object({
  level: z.enum(levels),
  /** Permanent kebab-case noun that names the fault, for example `photo-missing`. */
  rule: z.string().regex(/^[a-z][a-z0-9]*(-[a-z0-9]+)*$/),
  spot: spotSchema.optional(),
  /** What was found, for example `Unexpected "blcoked"`. No full stop. */
  found: z.string(),
  /** What was expected instead, for example `one of open, slow, blocked`. No full stop. */
  expected: z.string().optional(),
  /** What to do, a whole sentence. */
  advice: z.string().optional(),
});
export type Notice = z.infer<typeof noticeSchema>;

/** One line for people: `findings.md:12:3 warning rule: found, expected …. Advice`. */
export function noticeLine(notice: Notice): string {
  const { spot } = notice;
  const at = spot ? [spot.file, spot.line, spot.column].filter((part) => part !== undefined).join(':') + ' ' : '';
  const expected = notice.expected ? `, expected ${notice.expected}` : '';
  const advice = notice.advice ? ` ${notice.advice}` : '';
  return visible(`${at}${notice.level} ${notice.rule}: ${notice.found}${expected}.${advice}`);
}

/** A text for a terminal: control characters somebody typed or named a file with are shown, never obeyed. */
export function visible(text: string): string {
  return text.replace(/[\u0000-\u0008\u000B-\u001F\u007F-\u009F\u202A-\u202E\u2066-\u2069]/g, '\uFFFD');
}
