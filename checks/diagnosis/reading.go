package diagnosis

// Reading is a measured value that may not have been taken; the zero Reading was
// not. What is not taken is never replaced by a guess that could decide.
type Reading[T ~float64 | ~int64] struct {
	Value T
	Taken bool
}

// Read returns a reading that was taken.
func Read[T ~float64 | ~int64](v T) Reading[T] { return Reading[T]{v, true} }

// Answer is the answer to a question of the visit. The zero Answer says that nobody
// looked or asked.
type Answer int

// The answers.
const (
	NotAsked Answer = iota
	Yes
	No
)

// Measurement names what a person reads, looks at or asks on the visit. Where the
// plan of the assess phase has a question for it, the name is that question's.
type Measurement string

// The measurements a diagnosis can use.
const (
	RoomTemperature      Measurement = "room-temperature"
	RoomHumidity         Measurement = "room-humidity"
	AdjoiningTemperature Measurement = "adjoining-temperature"
	AdjoiningHumidity    Measurement = "adjoining-humidity"
	ControlOffset        Measurement = "control-offset"
	SurfaceTemperatures  Measurement = "surface-temperatures"
	BaselineLog          Measurement = "baseline-log"
	FramingMoisture      Measurement = "framing-moisture"
	PressureDifference   Measurement = "pressure-difference"
	DoorGap              Measurement = "door-gap"
	UnitSplit            Measurement = "unit-split"
	UnitDuty             Measurement = "unit-duty"
	CondenserIntake      Measurement = "condenser-intake"
	Condensate           Measurement = "condensate"
	MoldPatch            Measurement = "mold-patch"

	UnitSheet         Measurement = "unit-data-sheet"
	UnitAirflow       Measurement = "unit-airflow"
	UnitCycles        Measurement = "unit-cycles"
	UnitCutOut        Measurement = "unit-cut-out"
	HottestIntake     Measurement = "hottest-intake"
	DesignConditions  Measurement = "design-conditions"
	FaceConstruction  Measurement = "face-construction"
	RetarderPlace     Measurement = "retarder-place"
	WettingHistory    Measurement = "wetting-history"
	DrainTest         Measurement = "drain-test"
	WarmUp            Measurement = "warm-up"
	SeasonHistory     Measurement = "season-history"
	HouseFanHistory   Measurement = "house-fan-history"
	SweatingSurfaces  Measurement = "sweating-surfaces"
	FanTest           Measurement = "fan-test"
	ThroughWallSearch Measurement = "through-wall-search"
)

// measurements says in words what each one is and how it is taken.
var measurements = map[Measurement][2]string{
	RoomTemperature:      {"air temperature in the room", "read low, middle and high, in the middle and in the far corner, out of the supply air"},
	RoomHumidity:         {"relative humidity in the room", "read at the same places as the temperature"},
	AdjoiningTemperature: {"air temperature of the spaces around the room", "one reading in each, outdoors and attic too"},
	AdjoiningHumidity:    {"relative humidity of the spaces around the room", "read beside the temperature"},
	ControlOffset:        {"what the control shows less a reference thermometer", "hold the reference beside the control's sensor for 15 minutes"},
	SurfaceTemperatures:  {"surface temperatures on the house side", "contact probe at three or more places of each face, the coldest among them"},
	BaselineLog:          {"loggers in room and house", "72 hours or more, every 15 minutes, on days when the house's dew point moves"},
	FramingMoisture:      {"moisture of the framing", "pin meter through inspection holes, sole plate among them, near both edges of the bay"},
	PressureDifference:   {"pressure of the room against the house", "manometer, with dryer and hood off, then on"},
	DoorGap:              {"gap all round the door", "feeler gauge, the largest of each stretch"},
	UnitSplit:            {"return air less supply air of the unit", "after 15 minutes of running, three times half an hour apart"},
	UnitDuty:             {"share of the time that the unit runs", "current logger over a day"},
	CondenserIntake:      {"temperature of the air the condenser draws in", "probe in the intake while it runs"},
	Condensate:           {"condensate of a day", "empty the tray, weigh a whole day's water"},
	MoldPatch:            {"area of each mold patch, and where it is", "tape and photo with a scale; enter none as 0"},
	UnitSheet:            {"the unit's data sheet", "capacity with its conditions, temperature split, highest intake"},
	UnitAirflow:          {"air through the coil: filter, coil face, frost, racks in the way", "look, and compare the flow with the data sheet"},
	UnitCycles:           {"starts an hour and time of a run", "current logger, one minute apart or less"},
	UnitCutOut:           {"whether the unit stops on a safety switch", "current logger through a hot afternoon"},
	HottestIntake:        {"hottest condenser intake of the year", "logger in the intake through a hot spell"},
	DesignConditions:     {"conditions of the hottest design day", "from the climate table of the place, for each space around the room"},
	FaceConstruction:     {"what each face is made of", "drawings, inspection hole, or the transmittance of door and glass"},
	RetarderPlace:        {"on which side of the insulation the vapor retarder is", "inspection hole in each kind of face"},
	WettingHistory:       {"past wetting: flood, burst pipe, failed unit, wet cartons, rain", "ask, with dates; look again after rain"},
	DrainTest:            {"whether drain, trap and pan carry the water away", "pour a liter in, watch the trap hold and the pan empty"},
	WarmUp:               {"how fast the room warms with the unit off", "unit off, door shut, log 12 hours at one minute, leave the first 3 out"},
	SeasonHistory:        {"whether it is good in winter and bad in summer", "ask"},
	HouseFanHistory:      {"whether it is worse when dryer or hood runs", "ask, or log the fans"},
	SweatingSurfaces:     {"water seen on the house side of wall, door or glass", "look on a humid day"},
	FanTest:              {"leakage of the room by a calibrated fan", "house as the reference space, both directions"},
	ThroughWallSearch:    {"old openings through the wall", "look behind racks and unit, try smoke"},
}

// What says in words what is measured.
func (m Measurement) What() string { return measurements[m][0] }

// How says how it is taken.
func (m Measurement) How() string { return measurements[m][1] }
