/** Parameters of a kit's own valve type, with how far their currents may be off. */
export interface OwnModel {
  readonly parameters: Readonly<Record<string, number>>;
  /** One sigma of the anode current, relative. */
  readonly relativeSigma: number;
  /** One sigma of the screen current, relative. */
  readonly screenRelativeSigma: number;
  readonly source: string;
}
