package diagnosis

// Cause is one of the causes that the assess phase lets a person choose from, in
// its words.
type Cause string

// The causes.
const (
	AirLeakage       Cause = "air leakage"
	Insulation       Cause = "insulation missing or thin"
	Retarder         Cause = "retarder missing or on the wrong side"
	DoorOrGlass      Cause = "door or glass"
	UnitTooSmall     Cause = "unit too small"
	UnitFaulty       Cause = "unit faulty"
	HeatTrapped      Cause = "heat cannot get away"
	DrainOrWater     Cause = "drain or water from outside"
	ControlOrAirflow Cause = "control or airflow"
	PastMoisture     Cause = "moisture from the past"
)

// Causes lists all of them in the order of the assess phase.
var Causes = []Cause{
	AirLeakage, Insulation, Retarder, DoorOrGlass, UnitTooSmall,
	UnitFaulty, HeatTrapped, DrainOrWater, ControlOrAirflow, PastMoisture,
}

// Equipment reports whether a cause lies in the cooling unit or its place.
func (c Cause) Equipment() bool {
	return c == UnitTooSmall || c == UnitFaulty || c == HeatTrapped || c == ControlOrAirflow
}

// Certainty says how well a cause is proved.
type Certainty int

const (
	// NoCertainty: nothing speaks for the cause, or a reading rules it out.
	NoCertainty Certainty = iota
	// Low: something speaks for it, but the reading that would decide is missing
	// or falls between; the cause is possible and not named.
	Low
	// Medium: the deciding reading was taken and names it, but it stands alone, or
	// an assumed value took part, or another reading speaks against it.
	Medium
	// High: the deciding reading names it, at least one independent reading
	// agrees, no assumed value took part, and nothing speaks against it.
	High
)

func (c Certainty) String() string {
	return [...]string{"none", "low", "medium", "high"}[c]
}

// Outcome is the answer of a diagnosis. The zero Outcome is undecided.
type Outcome int

const (
	// Undecided: a sign that something is wrong is not explained, or the room
	// cannot be called sound because a sign was not looked for. Report.Wanted
	// names the readings.
	Undecided Outcome = iota
	// Explained: every sign that something is wrong is explained by the causes
	// named.
	Explained
	// Sound: each sign of the table was looked for and none was found.
	Sound
)

func (o Outcome) String() string {
	return [...]string{"undecided", "explained", "sound"}[o]
}

// Symptom is a sign that something is wrong with the room.
type Symptom string

// The symptoms.
const (
	TooWarm      Symptom = "room warmer than its set point"
	HardlyRests  Symptom = "unit hardly rests"
	HotCondenser Symptom = "condenser hotter than its maker allows"
	BadInSummer  Symptom = "good in winter, bad in summer"
	TooHumid     Symptom = "room too humid"
	TooDry       Symptom = "room too dry"
	ShortCycles  Symptom = "unit starts too often"
	Uneven       Symptom = "temperature uneven"
	Sweating     Symptom = "house side of the envelope wet"
	WetFraming   Symptom = "framing wet"
	WaterAtUnit  Symptom = "water at the unit"
	Moldy        Symptom = "mold"
	LetsAirIn    Symptom = "house air gets in"
	WorseWithFan Symptom = "worse when dryer or hood runs"
)
