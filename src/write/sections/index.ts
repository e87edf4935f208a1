import type { SectionId } from '../../model/edition.ts';
import type { SectionWriter } from '../context.ts';
import { again } from './again.ts';
import { asWritten } from './as-written.ts';
import { car } from './car.ts';
import { cautions } from './cautions.ts';
import { changes } from './changes.ts';
import { corrections } from './corrections.ts';
import { files } from './files.ts';
import { hindsight } from './hindsight.ts';
import { ledger } from './ledger.ts';
import { lives } from './lives.ts';
import { method } from './method.ts';
import { notSeen } from './not-seen.ts';
import { outlook } from './outlook.ts';
import { notices, noticesCount } from './notices.ts';
import { pairs } from './pairs.ts';
import { photos } from './photos.ts';
import { readings } from './readings.ts';
import { register } from './register.ts';
import { repairs } from './repairs.ts';
import { scope } from './scope.ts';
import { steps } from './steps.ts';
import { summary } from './summary.ts';
import { views } from './views.ts';
import { visits } from './visits.ts';
import { work } from './work.ts';
import { zonePages } from './zone-pages.ts';
import { map, zones } from './zones.ts';

/** Section id → its writer. A new section is its file, its line here, and its id in `model/edition.ts`. */
export const sectionWriters: Record<SectionId, SectionWriter> = {
  summary, visits, changes, pairs, lives, hindsight, map, steps, zones, 'zone-pages': zonePages, outlook, 'not-seen': notSeen, register, readings, repairs, work, ledger, again, photos, views, car,
  scope, corrections, method, cautions, files, 'as-written': asWritten, notices, 'notices-count': noticesCount,
};
