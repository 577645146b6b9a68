"""The axle on links: any set of links, wishbones, radius arms, a torque arm, a track bar."""
