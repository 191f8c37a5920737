package rules

// codes is a set of the codes that are about tie-downs.
type codes uint16

const (
	codeOnePerCorner codes = 1 << iota
	codeOnePerEnd
	codeGrade30
	codeLesserAlloy
	codeHalfCredit
	codePartsNotWeaker
	codeAccessoryCounted
	codeFromGear
	codeTensionerThere
	codeSound
	codeOnTheMachine
	codeCountOne
	codeTableRow
)

// codeOrder is the order in which the codes are listed, with the bit of those
// that are about tie-downs.
var codeOrder = [...]struct {
	code string
	bit  codes
}{
	{CodeOnePerCorner, codeOnePerCorner},
	{CodeOnePerEnd, codeOnePerEnd},
	{CodeGrade30, codeGrade30},
	{CodeLesserAlloy, codeLesserAlloy},
	{CodeHalfCredit, codeHalfCredit},
	{CodePartsNotWeaker, codePartsNotWeaker},
	{CodeShortTon, 0},
	{CodeAccessoryCounted, codeAccessoryCounted},
	{CodeFromGear, codeFromGear},
	{CodeTensionerThere, codeTensionerThere},
	{CodeSound, codeSound},
	{CodeOnTheMachine, codeOnTheMachine},
	{CodeDown, 0},
	{CodeLockIsBar, 0},
	{CodeOtherStowed, 0},
	{CodeCountOne, codeCountOne},
	{CodeTableRow, codeTableRow},
	{CodeByEye, 0},
}

// assume notes something taken for granted of the article, of a part or of the
// joint.
func (s *sheet) assume(code, part string) {
	s.notes = append(s.notes, Assumption{Code: code, Part: part})
}

// assumed lists all that a figure or a finding rests on, code by code.
func (s *sheet) assumed() []Assumption {
	var used codes
	for i := range s.groups {
		used |= s.groups[i].used
	}
	list := make([]Assumption, 0, 8)
	for _, c := range codeOrder {
		if used&c.bit != 0 {
			a := Assumption{Code: c.code}
			for i := range s.groups {
				if s.groups[i].used&c.bit != 0 {
					a.IDs = append(a.IDs, s.groups[i].ids...)
				}
			}
			list = append(list, a)
		}
		for _, n := range s.notes {
			if n.Code == c.code {
				list = append(list, n)
			}
		}
	}
	return list
}

// onTheMachine notes that the tie-downs that are on hold the machine itself and
// no accessory or joint of it, where a finding rests on that.
func (s *sheet) onTheMachine() (any bool) {
	for i := range s.groups {
		if g := &s.groups[i]; g.cond.fate <= maybe && g.itself() {
			g.used |= codeOnTheMachine
			any = true
		}
	}
	return any
}
