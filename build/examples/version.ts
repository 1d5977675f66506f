import manifest from '../../package.json';

export const engineVersion: string = manifest.version;
