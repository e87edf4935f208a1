import type { Spot } from './notice.ts';

/** When a photo was taken, and how that is known. */
export interface TakenAt {
  /** Local wall-clock time with what fraction was written, corrected for the camera's clock: `2026-03-14T10:12:41.888`. */
  local: string;
  /** `+00:00`, or null where no offset is known. */
  offset: string | null;
  /** UTC instant `2026-03-14T10:12:41.888Z` where an offset or zone is known. */
  instant: string | null;
  /** Where the time comes from. The file's own modification time is never used. */
  from: 'exif' | 'gps' | 'file name';
  /** Where the offset comes from: written by the camera, taken from the time zone of `seen:`, GPS is UTC. */
  offsetFrom: 'camera' | 'visit' | 'gps' | null;
  /** The text exactly as it stands in the file. */
  asWritten: string;
  /** Set where `clock:` corrected it: the correction as applied, `-1:13:20`. */
  corrected: string | null;
}

/** A photo file of the job: what can be told from its bytes without looking at the picture. */
export interface Photo {
  /** Unique, stable, fit for file names and anchors: `img-4022`; `img-4022-2` where names repeat; `2026-03-14--img-4022` of an earlier visit. */
  id: string;
  /** Path relative to the folder of the car, as on disk, with `/`. */
  path: string;
  /** File name with ending. */
  name: string;
  bytes: number;
  /** Lower-case hex of the file as it lies on disk; empty where it could not be read. */
  sha256: string;
  /** By content, not by name; null where it is no picture format we take. */
  format: 'jpeg' | 'png' | 'tiff' | 'webp' | 'heif' | 'avif' | null;
  make: string | null;
  model: string | null;
  /** EXIF orientation, 1 to 8; 1 where none or invalid. */
  orientation: number;
  takenAt: TakenAt | null;
  /** dc:subject, lr:hierarchicalSubject, IPTC keywords, as written, without repeats. */
  keywords: string[];
  /** Programs known to alter photos that say they saved this file, each once, as written. */
  editors: string[];
  /** The file carries a GPS position (never published). */
  hasPosition: boolean;
  /** Raw EXIF strings for tests and checks. */
  exif: ExifStrings;
}

/** EXIF as written, no dates revived. */
export interface ExifStrings {
  dateTimeOriginal: string | null;
  subSecTimeOriginal: string | null;
  offsetTimeOriginal: string | null;
  /** DateTime: last change of the file. */
  modifyDate: string | null;
  software: string | null;
  gpsLatitude: number | null;
  gpsLongitude: number | null;
  gpsDate: string | null;
  gpsTime: string | null;
}

/** `clock: scope +1:13:20`: a camera whose clock runs fast by that much. */
export interface ClockCorrection {
  /** Word to find in make, model or file name, lower case. */
  camera: string;
  /** Seconds the camera's clock is ahead of true time; negative where behind. */
  aheadSeconds: number;
  spot: Spot;
}
