import type { Section } from '../../model/dossier.ts';
import type { Context } from '../context.ts';
import { facts, paragraph } from '../inline.ts';

const names: Record<string, string> = { car: 'Car', built: 'Built', body: 'Body', identity: 'Identity', kept: 'Kept', 'winter salt': 'Winter salt', mileage: 'Mileage' };

/** The car and its identity, as written; what is usual and was left out is said. */
export function car(context: Context): Section {
  const lines = context.inspection.job.notes.car.filter((line) => line.text.trim() !== '');
  const missing = Object.keys(names).filter((key) => !lines.some((line) => line.key === key));
  const items = [
    ...lines.map((line) => ({ term: names[line.key] ?? (line.key === '' ? 'Also written' : line.key.charAt(0).toUpperCase() + line.key.slice(1)), value: [line.text] })),
    ...missing.map((key) => ({ term: names[key] ?? key, value: ['not written'] })),
  ];
  // What is usual on a body that is only assumed says nothing about this car.
  const known = !context.notices.some((notice) => notice.rule === 'body-unknown' || notice.rule === 'body-missing');
  const bodyNotes = known ? (context.inspection.body?.notes ?? []) : [];
  return {
    id: 'car',
    title: 'Car and identity',
    page: 'about',
    nav: 'About',
    breakBefore: false,
    blocks: [...facts(items), ...bodyNotes.map((note) => paragraph(note))],
  };
}
